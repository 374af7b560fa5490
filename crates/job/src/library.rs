//! Libraries of the user's own: fans, terminals and ducts, as TOML or (fans only) as CSV; and how a
//! library is laid under a job.

use std::collections::BTreeMap;

use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Choice, Origin, Stated};

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::file::{Asked, Read};
use crate::keys::{InTable as _, Keys};
use crate::lay_under::LayUnder as _;
use crate::model::{
    DuctGiven, Fan, FanData, HousingGiven, Job, Library, LibraryDuct, LibraryFan, LibraryTerminal,
    PartKind, RunShape, Terminal,
};
use crate::nearest::nearest;
use crate::node::{Entry, Node, Value, parse_toml};
use crate::read::{Context, Reader};
use crate::say::{self, Do, Label};
use crate::spec::Shape;

/// Fans, terminals and ducts that you keep.
#[derive(Debug, Default, Keys)]
#[table(name = "", written = "the top of the library file", ids = Library)]
pub(crate) struct LibraryFile {
    /// Version of the library format.
    #[key(format, example = 1)]
    format: u32,
    /// What you call the library.
    #[key(example = "Van stock")]
    name: Option<String>,
    /// Free notes.
    #[key(example = ["prices live elsewhere"])]
    notes: Vec<String>,
    /// A fan.
    #[key(name = "fan", example = { id = "quiet-80", rated = "80 cfm at 0.1 inWC" })]
    fans: Vec<LibraryFan>,
    /// A terminal.
    #[key(name = "terminal", example = { id = "wall-cap-4", kind = "wall cap", size = "4 in" })]
    terminals: Vec<LibraryTerminal>,
    /// A duct.
    #[key(name = "duct", example = { id = "flex-4-r8", kind = "flex", size = "4 in" })]
    ducts: Vec<LibraryDuct>,
}

/// Reads a library file (TOML).
///
/// # Errors
/// Everything that is wrong, in one go.
pub fn read(name: &str, text: &str) -> Result<Library, Diagnostics> {
    read_tree(name, text).map(|(library, _)| library)
}

pub(crate) fn read_tree(name: &str, text: &str) -> Result<(Library, Asked), Diagnostics> {
    let root = parse_toml(text).map_err(|list| Diagnostics::new(name, text, list))?;
    read_node(name, text, &root)
}

fn read_node(name: &str, text: &str, root: &Node) -> Result<(Library, Asked), Diagnostics> {
    let mut context = Context::new(text, Origin::Label, Job::TABLE);
    let Value::Table(entries) = &root.value else { return Ok((Library::default(), Asked::new())) };
    let top = Reader::open(&mut context, LibraryFile::TABLE, entries, 0..0, String::new());
    let LibraryFile { fans, terminals, ducts, .. } =
        LibraryFile::read(&mut context, &top).unwrap_or_default();
    let library = Library { fans, terminals, ducts };
    let failed = context.has_errors();
    let asked = std::mem::take(&mut context.asked);
    let (list, dropped, _) = context.finish();
    if failed {
        let mut diagnostics = Diagnostics::new(name, text, list);
        diagnostics.more += dropped;
        return Err(diagnostics);
    }
    Ok((library, asked))
}

/// Reads fans from a CSV file: one line a fan, with a header of column names.
///
/// The columns are the keys of a library fan (`id`, `name`, `kind`, `rated`, `curve`, `loudness`,
/// `power`, `outlet`, …), in any order; `id` is needed, empty cells are left out. Where a key takes
/// several values (`rated`, `curve`) a semicolon stands between them:
/// `80 cfm at 0.1 inWC; 62 cfm at 0.25 inWC`. Numbers without a unit are read only where the key takes
/// a plain ratio.
///
/// # Errors
/// Everything that is wrong, in one go: unknown columns, lines with too many cells, values.
///
/// ```
/// let csv = "id,kind,rated,power,outlet\nattic-70,centrifugal,70 cfm at 0.1 inWC; 52 cfm at 0.25 inWC,18 W,4 in\n";
/// let library = dewpath_job::library::read_csv("fans.csv", csv)?;
/// assert_eq!(library.fans[0].data.rated.len(), 2);
/// # Ok::<(), dewpath_job::Diagnostics>(())
/// ```
pub fn read_csv(name: &str, text: &str) -> Result<Library, Diagnostics> {
    let (body, start) =
        text.strip_prefix('\u{feff}').map_or((text, 0), |body| (body, '\u{feff}'.len_utf8()));
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .has_headers(false)
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes());
    let mut header: Vec<(String, std::ops::Range<usize>)> = Vec::new();
    let mut fans: Vec<Node> = Vec::new();
    let mut wrong: Vec<Diagnostic> = Vec::new();
    let mut record = csv::StringRecord::new();
    loop {
        let from = start + reader.position().byte() as usize;
        match reader.read_record(&mut record) {
            Ok(false) => break,
            Ok(true) => {}
            Err(error) => {
                wrong.push(
                    Diagnostic::error(
                        "",
                        from..from,
                        say::LineUnreadable { said: Reference::new(error.to_string()) },
                    )
                    .label(Label::Here)
                    .help(Do::QuoteCell),
                );
                break;
            }
        }
        let to = (start + reader.position().byte() as usize).min(text.len());
        let cells = cells_of(text, from..to, &record);
        if header.is_empty() {
            check_header(&cells, &mut wrong);
            header = cells;
            continue;
        }
        if cells.len() > header.len() {
            let extra = cells.get(header.len()).map_or(from..to, |(_, span)| span.clone());
            wrong.push(
                Diagnostic::error(
                    "",
                    extra,
                    say::CellsBeyondHeader {
                        cells: say::count(cells.len()),
                        columns: say::count(header.len()),
                    },
                )
                .label(Label::OneCellTooMany)
                .help(Do::QuoteCommas),
            );
            continue;
        }
        let span =
            cells.first().map_or(from, |(_, s)| s.start)..cells.last().map_or(to, |(_, s)| s.end);
        fans.push(Node { value: Value::Table(entries_of(&header, cells)), span });
    }
    if header.is_empty() {
        wrong.push(Diagnostic::error("", 0..0, say::File::NoHeader).help(Do::WriteHeader));
    }
    if !wrong.is_empty() {
        return Err(Diagnostics::new(name, text, wrong));
    }
    let entry = |key: &str, value: Value| Entry {
        key: key.to_owned(),
        key_span: 0..0,
        node: Node { value, span: 0..0 },
    };
    let entries = vec![entry("format", Value::Number(Some(1.0))), entry("fan", Value::List(fans))];
    let root = Node { value: Value::Table(entries), span: 0..text.len() };
    read_node(name, text, &root).map(|(library, _)| library)
}

/// The cells of a line with their places, found again one behind the other.
fn cells_of(
    text: &str,
    line: std::ops::Range<usize>,
    record: &csv::StringRecord,
) -> Vec<(String, std::ops::Range<usize>)> {
    let mut at = line.start;
    record
        .iter()
        .map(|cell| {
            let rest = text.get(at..line.end).unwrap_or_default();
            let span = match rest.find(cell) {
                Some(offset) => at + offset..at + offset + cell.len(),
                // Doubled quotes inside the cell: the line itself is the nearest place.
                None => at..at,
            };
            at = span.end;
            (cell.to_owned(), span)
        })
        .collect()
}

fn check_header(cells: &[(String, std::ops::Range<usize>)], wrong: &mut Vec<Diagnostic>) {
    let names: Vec<&str> = LibraryFan::TABLE.keys.iter().map(|key| key.name).collect();
    for (index, (cell, span)) in cells.iter().enumerate() {
        if LibraryFan::TABLE.key(cell).is_none() {
            let near = nearest(cell, names.iter().copied());
            wrong.push(
                Diagnostic::error("", span.clone(), say::TypedKey::NoColumn.of(cell))
                    .label(say::did_you_mean(near, Label::NotKnown))
                    .help(say::NamesKey::Columns.of(&names.join(", "))),
            );
        } else if cells.iter().take(index).any(|(other, _)| other == cell) {
            wrong.push(
                Diagnostic::error("", span.clone(), say::TypedKey::ColumnTwice.of(cell))
                    .label(Label::SecondTime)
                    .help(Do::KeepOne),
            );
        }
    }
    if !cells.iter().any(|(cell, _)| cell == "id") {
        let span = cells.first().map_or(0..0, |(_, span)| span.clone());
        wrong.push(
            Diagnostic::error("", span, say::File::NoIdColumn)
                .label(Label::InHeader)
                .help(Do::WriteIds),
        );
    }
}

fn entries_of(
    header: &[(String, std::ops::Range<usize>)],
    cells: Vec<(String, std::ops::Range<usize>)>,
) -> Vec<Entry> {
    header
        .iter()
        .zip(cells)
        .filter(|(_, (cell, _))| !cell.is_empty())
        .map(|((key, _), (cell, span))| {
            let several = LibraryFan::TABLE
                .key(key)
                .is_some_and(|key| matches!(key.shape, Shape::Ratings | Shape::Curve));
            let value =
                if several { Value::List(pieces(&cell, span.start)) } else { Value::Text(cell) };
            Entry { key: key.clone(), key_span: span.clone(), node: Node { value, span } }
        })
        .collect()
}

/// The values of one cell, parted by semicolons.
fn pieces(cell: &str, start: usize) -> Vec<Node> {
    let mut at = 0;
    cell.split(';')
        .filter_map(|piece| {
            let lead = piece.len() - piece.trim_start().len();
            let from = start + at + lead;
            at += piece.len() + 1;
            let text = piece.trim();
            (!text.is_empty()).then(|| Node {
                value: Value::Text(text.to_owned()),
                span: from..from + text.len(),
            })
        })
        .collect()
}

impl Library {
    /// Puts several libraries together; of two entries with one id the later file's is kept, so that a
    /// user's own figure replaces a shipped one.
    #[must_use]
    pub fn joined(libraries: impl IntoIterator<Item = Self>) -> Self {
        fn lay<T>(list: &mut Vec<T>, new: Vec<T>, id: impl Fn(&T) -> &String) {
            let mut index: BTreeMap<String, usize> =
                list.iter().enumerate().map(|(i, item)| (id(item).clone(), i)).collect();
            for item in new {
                if let Some(old) = index.get(id(&item)).and_then(|&i| list.get_mut(i)) {
                    *old = item;
                } else {
                    index.insert(id(&item).clone(), list.len());
                    list.push(item);
                }
            }
        }
        let mut all = Self::default();
        for library in libraries {
            lay(&mut all.fans, library.fans, |fan| &fan.id);
            lay(&mut all.terminals, library.terminals, |terminal| &terminal.id);
            lay(&mut all.ducts, library.ducts, |duct| &duct.id);
        }
        all
    }
}

impl Read {
    /// Lays the library's models under the job: what the job writes itself wins, the rest is taken from
    /// the model.
    ///
    /// # Errors
    /// Every model that is named in the job and is not in the library, with the nearest id.
    pub fn resolve(self, library: &Library) -> Result<Job, Diagnostics> {
        let Self { mut job, warnings, places } = self;
        let mut wrong = Vec::new();
        let mut missing = |kind: &str, id: &str, path: String, known: Vec<&str>| {
            let span = places.get(&path).cloned().unwrap_or(0..0);
            let near = nearest(id, known.iter().copied());
            let diagnostic = Diagnostic::error(
                &path,
                span,
                say::NoModel { kind: Reference::new(kind), id: Name::new(id) },
            )
            .label(say::did_you_mean(near, Label::NotFound));
            wrong.push(if known.is_empty() {
                diagnostic.help(say::NoLibrary {
                    kind: Reference::new(kind),
                    line: Reference::new("library = [\"library/demo.toml\"]"),
                })
            } else {
                let shown: Vec<&str> = known.iter().take(12).copied().collect();
                let more = known.len() - shown.len();
                diagnostic.help(say::KnownModels {
                    names: Reference::new(shown.join(", ")),
                    more: (more > 0).then(|| say::count(more)),
                })
            });
        };
        for fan in &mut job.fans {
            let Some(model) = fan.model.clone() else { continue };
            match library.fans.iter().find(|entry| entry.id == model) {
                Some(entry) => lay_fan(fan, &entry.data),
                None => missing(
                    "fan",
                    &model,
                    format!("fan.{}.model", fan.id),
                    library.fans.iter().map(|f| f.id.as_str()).collect(),
                ),
            }
        }
        for terminal in &mut job.terminals {
            let Some(model) = terminal.model.clone() else { continue };
            match library.terminals.iter().find(|entry| entry.id == model) {
                Some(entry) => lay_terminal(terminal, entry),
                None => missing(
                    "terminal",
                    &model,
                    format!("terminal.{}.model", terminal.id),
                    library.terminals.iter().map(|t| t.id.as_str()).collect(),
                ),
            }
        }
        let mut lay_duct = |duct: &mut DuctGiven, path: String| {
            let Some(model) = duct.model.clone() else { return };
            match library.ducts.iter().find(|entry| entry.id == model) {
                Some(entry) => {
                    // The entry is the product that was named, whatever it calls itself.
                    let mut under = entry.duct.clone();
                    under.model = Some(model);
                    if duct.kind.is_none() {
                        duct.kind.clone_from(&under.kind);
                    }
                    under.kind.clone_from(&duct.kind);
                    duct.complete_from(&under);
                }
                None => missing(
                    "duct",
                    &model,
                    path,
                    library.ducts.iter().map(|d| d.id.as_str()).collect(),
                ),
            }
        };
        for run in &mut job.runs {
            let own = format!("run.{}.duct_model", run.id);
            match &mut run.shape {
                RunShape::Sum(sum) => lay_duct(&mut sum.duct, own),
                RunShape::Parts(parts) => {
                    for part in parts {
                        if let PartKind::Piece { duct, .. } = &mut part.kind {
                            let path = format!("run.{}.part.{}.piece.duct_model", run.id, part.id);
                            let path = if places.contains_key(&path) { path } else { own.clone() };
                            lay_duct(duct, path);
                        }
                    }
                }
            }
        }
        if wrong.is_empty() {
            Ok(job)
        } else {
            Err(Diagnostics::new(&warnings.file, &warnings.text, wrong))
        }
    }
}

fn lay_fan(fan: &mut Fan, under: &FanData) {
    let data = &mut fan.data;
    let mut under = under.clone();
    // Ratings and curve say one thing in two ways: a rating written in the job replaces both.
    if !data.rated.is_empty() || !data.curve.is_empty() {
        under.rated = Vec::new();
        under.curve = Vec::new();
    }
    // A loudness is rated at its own pressure.
    if data.loudness.is_some() {
        under.loudness_at = None;
    }
    // Collar and flange belong to one housing, so those of a model don't lie under another one's.
    if data.housing.is_some() {
        under.body = HousingGiven::default();
    }
    data.lay_under(&under);
}

fn lay_terminal(terminal: &mut Terminal, under: &LibraryTerminal) {
    let LibraryTerminal { id: _, kind, size, flap, screen, point, leak } = under;
    let known = Stated::new(Choice::Known(*kind), Origin::Label);
    terminal.kind.lay_under(&Some(known));
    terminal.size.lay_under(size);
    terminal.flap.lay_under(flap);
    terminal.screen.lay_under(screen);
    terminal.point.lay_under(point);
    terminal.leak.lay_under(leak);
}
