//! Water in a run: piece by piece, and month by month.

use dewpath_report::{Figure, Message, RunResult, Triple};

use crate::board::Board;
use crate::paper::{Page, Sheet};
use crate::rows::{Row, Rows};
use crate::sheet::room::columns;
use crate::voice::Voice;

/// Water in a run. None where it is not known.
pub fn water(voice: &Voice, page: Page, run: &RunResult) -> Option<Sheet> {
    let condensate = run.condensate.as_ref()?;
    let name = format!("water-{}", run.id);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.water.title"), &run.id);
    board.describe(voice.say(&Message::new("draw.water.about").name("run", run.id.as_str())));
    let mut rows: Vec<Row> = condensate
        .pieces
        .iter()
        .map(|piece| Row {
            label: format!("{}, {}", piece.part, place_word(voice, &piece.surroundings)),
            value: voice.water_text(piece.condensed_g),
            from: 0.0,
            to: voice.water(piece.condensed_g),
            spread: None,
            strong: false,
        })
        .collect();
    let whole = condensate.per_shower_g;
    rows.push(Row {
        label: voice.word("draw.pressure.sum"),
        value: voice.figure(Figure::MassG(whole)),
        from: 0.0,
        to: voice.water(whole.likely),
        spread: super::pressure::spread(whole, |g| voice.water(g)),
        strong: true,
    });
    let title = format!("{}, {}", voice.word("draw.water.axis"), voice.water_unit());
    Rows { rows: &rows, title: &title }.draw(&mut board);
    if !condensate.months_g.is_empty() {
        let title = format!("{}, {}", voice.word("draw.water.months"), voice.water_unit());
        columns(&mut board, &title, condensate.months_g.iter().map(|g| voice.water(*g)));
    }
    board.note_of(
        &Message::new("draw.water.day")
            .figure("outdoor", Figure::TemperatureC(Triple::exact(condensate.outdoor_c)))
            .figure("stays", Figure::MassG(condensate.stays_g))
            .figure("out", Figure::MassG(condensate.out_at_terminal_g)),
    );
    if !whole.is_exact() {
        board.note(voice.word("draw.likely-and-range"));
    }
    Some(board.finish())
}

/// What surrounds a duct, in words; the key where there is none.
pub(crate) fn place_word(voice: &Voice, key: &str) -> String {
    let word = voice.word(&format!("draw.place.{key}"));
    if word.starts_with("draw.") { key.to_owned() } else { word }
}
