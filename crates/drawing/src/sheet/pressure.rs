//! What each part of a run takes, one below the other in the direction of the air.

use dewpath_report::{Figure, Message, RunResult, Triple};

use crate::board::Board;
use crate::paper::{Page, Sheet};
use crate::rows::{Row, Rows};
use crate::voice::Voice;

/// Pressure along a run. None when nothing is known of what it takes.
pub fn pressure(voice: &Voice, page: Page, run: &RunResult) -> Option<Sheet> {
    let total = run.total_pa?;
    if run.losses.is_empty() {
        return None;
    }
    let name = format!("pressure-{}", run.id);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.pressure.title"), &run.id);
    board.describe(
        voice.say(
            &Message::new("draw.pressure.about")
                .name("run", run.id.as_str())
                .figure("total", Figure::PressurePa(total)),
        ),
    );
    let mut rows = Vec::new();
    let mut sum = 0.0;
    for loss in &run.losses {
        let t = loss.pressure_pa;
        let what = voice.word(&loss.what);
        rows.push(Row {
            label: if what == loss.part { what } else { format!("{}, {what}", loss.part) },
            value: voice.pressure_text(t),
            from: voice.pressure(sum),
            to: voice.pressure(sum + t.likely),
            spread: spread(t, |pa| voice.pressure(sum + pa)),
            strong: false,
        });
        sum += t.likely;
    }
    rows.push(Row {
        label: voice.word("draw.pressure.sum"),
        value: voice.pressure_text(total),
        from: 0.0,
        to: voice.pressure(total.likely),
        spread: spread(total, |pa| voice.pressure(pa)),
        strong: true,
    });
    let title = format!("{}, {}", voice.word("draw.pressure.axis"), voice.pressure_unit());
    Rows { rows: &rows, title: &title }.draw(&mut board);
    if run.losses.iter().any(|loss| !loss.pressure_pa.is_exact()) {
        board.note(voice.word("draw.likely-and-range"));
    }
    Some(board.finish())
}

/// Low and high where they differ.
pub(crate) fn spread(t: Triple, at: impl Fn(f64) -> f64) -> Option<[f64; 2]> {
    (!t.is_exact()).then(|| [at(t.low), at(t.high)])
}
