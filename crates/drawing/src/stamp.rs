//! The title block at the foot of a sheet: job, date, number of the sheet.

use dewpath_job::model::Day;
use dewpath_report::Message;

use crate::board::{BODY, EDGE, text_at};
use crate::font;
use crate::paper::Sheet;
use crate::pen::Layer;
use crate::scene::{Anchor, Rect, Scene, Shape};
use crate::voice::Voice;

/// White paper round a text of the block, mm.
const AIR: f64 = 1.6;

/// What stands in the title block.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stamp<'a> {
    /// What the job is called.
    pub job: Option<&'a str>,
    /// The day of the job. Where nobody wrote it the block says so; no clock is asked.
    pub date: Option<Day>,
    /// Number of the sheet and how many there are.
    pub sheet: [usize; 2],
}

/// Adds the block below everything that is on a sheet, which grows by as much.
pub(crate) fn stamp(sheet: &mut Sheet, voice: &Voice, stamp: Stamp<'_>) {
    let [number, count] = stamp.sheet.map(|n| n.to_string());
    let message = Message::new("draw.block.sheet").reference("number", number);
    let page = voice.say(&message.reference("count", count));
    let date = match stamp.date {
        Some(day) => Message::new("draw.block.date").reference("date", day.to_string()),
        None => Message::new("draw.block.no-date"),
    };
    let job = Message::new("draw.block.job").name("job", stamp.job.unwrap_or_default());
    let job = stamp.job.map_or_else(String::new, |_| voice.say(&job));
    let scene = &mut sheet.scene;
    let width = scene.width - 2.0 * EDGE;
    // The job in as many lines as it takes, date and number of the sheet below it.
    let mut rows: Vec<[String; 2]> = font::wrap(&job, BODY, width - 2.0 * AIR)
        .into_iter()
        .map(|line| [line, String::new()])
        .collect();
    rows.push([voice.say(&date), page]);
    let top = scene.height - EDGE + AIR;
    let mut y = top + AIR;
    for [left, right] in rows {
        y += font::CAPITAL * BODY;
        for (x, text, anchor) in
            [(EDGE + AIR, left, Anchor::Start), (EDGE + width - AIR, right, Anchor::End)]
        {
            if !text.is_empty() {
                scene.add(Layer::Text, Shape::Text(text_at([x, y], &text, BODY, anchor)));
            }
        }
        y += AIR;
    }
    let block = Rect { min: [EDGE, top], max: [EDGE + width, y + 0.4] };
    scene.add(Layer::Axis, Shape::Path { points: block.corners().to_vec(), closed: true });
    grow(scene, y + 0.4 + EDGE);
}

/// Makes the paper that high.
fn grow(scene: &mut Scene, height: f64) {
    scene.height = height;
    let edge = Rect::new(0.2, 0.2, scene.width - 0.4, height - 0.4).corners().to_vec();
    if let Some(item) = scene.items.iter_mut().find(|item| item.layer == Layer::Sheet) {
        item.shape = Shape::Path { points: edge, closed: true };
    }
}
