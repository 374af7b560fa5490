//! Puts every sentence of a report into words.

use dewpath_message::Text;
use dewpath_report::{Finding, Message, Report, Source, Step};

use crate::Speaker;

impl Speaker {
    /// Fills in the text beside every message key of a report.
    pub fn put_into_words(&self, report: &mut Report) {
        let put = |message: &mut Message| message.text = self.message(message);
        let source = |source: &mut Source| self.put_source(source);
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
            source(&mut requirement.source);
            self.put_steps(&mut requirement.working);
            requirement.missing.iter_mut().for_each(put);
        }
        report.findings.iter_mut().for_each(|finding| self.put_finding(finding));
        report.fans.iter_mut().flat_map(|fan| &mut fan.loudness_source).for_each(source);
        for candidate in &mut report.candidates {
            candidate.notes.iter_mut().for_each(|note| put(&mut note.message));
        }
        for scenario in &mut report.scenarios {
            scenario.left_out.iter_mut().for_each(put);
        }
        if let Some(dwelling) = &mut report.dwelling {
            dwelling.pressure.iter_mut().flat_map(|at| &mut at.source).for_each(source);
            if let Some(year) = &mut dwelling.year {
                put(&mut year.weather);
                year.weather_notes.iter_mut().for_each(put);
            }
        }
        for place in &mut report.placements {
            place.why.iter_mut().chain(&mut place.fastening).for_each(put);
        }
        for route in &mut report.routes {
            route.notes.iter_mut().chain(&mut route.materials).for_each(put);
            self.put_steps(&mut route.working);
            let of_joints = [&mut route.jointing.source, &mut route.jointing.sold_source];
            of_joints.into_iter().for_each(source);
            [&mut route.slope_source, &mut route.supports.source].into_iter().for_each(source);
            route.bores.iter_mut().for_each(|bore| source(&mut bore.source));
        }
        report.bores.iter_mut().for_each(|bore| source(&mut bore.source));
        report.clearances.iter_mut().flat_map(|near| &mut near.source).for_each(source);
        report.penetrations.iter_mut().flat_map(|hole| &mut hole.steps).for_each(put);
        for assumption in &mut report.assumptions {
            put(&mut assumption.what);
            source(&mut assumption.source);
        }
        report.look_next.iter_mut().for_each(|look| put(&mut look.what));
        for caution in &mut report.cautions {
            put(&mut caution.message);
            source(&mut caution.source);
        }
        report.evidence.iter_mut().for_each(put);
    }

    /// Fills in the texts of a finding, of what to do about it and of its working.
    pub fn put_finding(&self, finding: &mut Finding) {
        finding.message.text = self.message(&finding.message);
        finding.todo.iter_mut().for_each(|todo| todo.text = self.message(todo));
        self.put_source(&mut finding.source);
        self.put_steps(&mut finding.working);
    }

    /// Fills in what a source is called.
    pub fn put_source(&self, source: &mut Source) {
        self.put_text(&mut source.book);
        self.put_text(&mut source.section);
    }

    fn put_steps(&self, working: &mut [Step]) {
        for step in working {
            self.put_text(&mut step.equation);
            self.put_source(&mut step.source);
            for input in &mut step.inputs {
                self.put_text(&mut input.symbol);
                input.what.text = self.input(&input.what);
            }
        }
    }

    fn put_text(&self, text: &mut Text) {
        if text.said.is_some() {
            text.text = text.told(self);
        }
    }
}
