//! Puts every sentence of a report into words.

use dewpath_report::{Message, Report, Step};

use crate::Speaker;

impl Speaker {
    /// Fills in the text beside every message key of a report.
    pub fn put_into_words(&self, report: &mut Report) {
        let put = |message: &mut Message| message.text = self.message(message);
        let steps = |working: &mut Vec<Step>| {
            for input in working.iter_mut().flat_map(|step| &mut step.inputs) {
                input.what.text = self.input(&input.what);
            }
        };
        report.answer.messages.iter_mut().for_each(put);
        let brief = &mut report.brief;
        brief.symptoms.iter_mut().for_each(put);
        for answer in &mut brief.answers {
            put(&mut answer.word);
            answer.says.iter_mut().for_each(put);
            answer.rooms.iter_mut().for_each(|room| put(&mut room.says));
        }
        brief.tasks.iter_mut().for_each(|task| put(&mut task.what));
        for requirement in &mut report.requirement {
            steps(&mut requirement.working);
            requirement.missing.iter_mut().for_each(put);
        }
        for finding in &mut report.findings {
            put(&mut finding.message);
            finding.todo.iter_mut().for_each(put);
            steps(&mut finding.working);
        }
        for candidate in &mut report.candidates {
            candidate.notes.iter_mut().for_each(|note| put(&mut note.message));
        }
        for scenario in &mut report.scenarios {
            scenario.left_out.iter_mut().for_each(put);
        }
        if let Some(year) = report.dwelling.as_mut().and_then(|dwelling| dwelling.year.as_mut()) {
            put(&mut year.weather);
            year.weather_notes.iter_mut().for_each(put);
        }
        for place in &mut report.placements {
            place.why.iter_mut().chain(&mut place.fastening).for_each(put);
        }
        for route in &mut report.routes {
            route.notes.iter_mut().chain(&mut route.materials).for_each(put);
            steps(&mut route.working);
        }
        report.penetrations.iter_mut().flat_map(|hole| &mut hole.steps).for_each(put);
        report.assumptions.iter_mut().for_each(|assumption| put(&mut assumption.what));
        report.look_next.iter_mut().for_each(|look| put(&mut look.what));
        report.cautions.iter_mut().for_each(|caution| put(&mut caution.message));
        report.evidence.iter_mut().for_each(put);
    }
}
