//! Writes the drawings of a job.

use std::path::Path;

use dewpath_drawing::{Page, Sheet, Subject};
use dewpath_words::Speaker;

use crate::args::Draw;
use crate::files::{self, Trouble};

/// Draws a job and writes the sheets; says which.
pub(crate) fn draw(
    draw: &Draw,
    speaker: &Speaker,
    subject: &Subject<'_>,
) -> Result<String, Trouble> {
    let page = if draw.phone { Page::Phone } else { Page::Paper };
    let sheets = dewpath_drawing::sheets(speaker, subject, page);
    if sheets.is_empty() {
        return Ok(
            "nothing can be drawn yet: write a run with its parts, and a fan with its label\n"
                .to_owned(),
        );
    }
    std::fs::create_dir_all(&draw.out).map_err(|error| cannot_write(&draw.out, &error))?;
    let mut lines = Vec::new();
    for sheet in &sheets {
        for (ending, content) in contents(sheet, draw.dxf) {
            let path = draw.out.join(format!("{}.{ending}", sheet.name));
            std::fs::write(&path, content).map_err(|error| cannot_write(&path, &error))?;
            lines.push(format!("wrote {}: {}\n", path.display(), sheet.title));
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
    Trouble::Other {
        message: format!("`{}` cannot be written: {}", path.display(), files::reason(error)),
        hint: "name a folder that may be written to with `--out`".to_owned(),
    }
}
