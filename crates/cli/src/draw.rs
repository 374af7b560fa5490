//! Writes the drawings of a job.

use std::path::Path;

use dewpath_drawing::{Page, Sheet, Subject};
use dewpath_words::Speaker;

use crate::args::Draw;
use crate::files::{Trouble, cannot, name};
use crate::say::{CannotKey, Hint, Told, Wrote, WroteKey};

/// Draws a job and writes the sheets; says which.
pub(crate) fn draw(
    draw: &Draw,
    speaker: &Speaker,
    subject: &Subject<'_>,
) -> Result<String, Trouble> {
    let page = if draw.phone { Page::Phone } else { Page::Paper };
    let sheets = dewpath_drawing::sheets(speaker, subject, page);
    if sheets.is_empty() {
        return Ok(speaker.message(&Told::NothingToDraw.into()) + "\n");
    }
    std::fs::create_dir_all(&draw.out).map_err(|error| cannot_write(&draw.out, &error))?;
    let mut lines = Vec::new();
    for sheet in &sheets {
        for (ending, content) in contents(sheet, draw.dxf) {
            let path = draw.out.join(format!("{}.{ending}", sheet.name));
            std::fs::write(&path, content).map_err(|error| cannot_write(&path, &error))?;
            let wrote = speaker.message(&Wrote { key: WroteKey::File, path: name(&path) }.into());
            lines.push(format!("{wrote}: {}\n", sheet.title));
        }
    }
    Ok(lines.concat())
}

fn contents(sheet: &Sheet, dxf: bool) -> Vec<(&'static str, String)> {
    let mut contents = vec![("svg", sheet.svg())];
    if dxf {
        contents.push(("dxf", sheet.dxf()));
    }
    contents
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Trouble {
    cannot(CannotKey::Write, path, error, Hint::NameOut)
}
