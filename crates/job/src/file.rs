//! From a job file as typed to a checked job.

use std::collections::BTreeMap;
use std::ops::Range;

use dewpath_units::{Choice, Origin, Style};

use crate::check;
use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::model::{
    Appliance, Built, Clearances, Door, DuctGiven, Dwelling, Existing, Fan, FanData, FanSettings,
    Fixtures, GivenChoice, Grille, Job, Junction, Months, OtherExhaust, Override, Part, PartKind,
    Prices, Reading, Room, RoomKind, Run, RunShape, RunSum, Scenario, Section, Settings, Show,
    Site, Surface, SurfaceKind, Symptom, SymptomKind, Terminal, Usage, Ventilation, Window, Work,
};
use crate::node::{Node, Value, parse_toml};
use crate::patch::{self, Set};
use crate::reader::{Context, Element, IdScope, Reader};
use crate::tables::JOB;

mod geometry;

/// A job that was read, with what is worth a second look and the place of every value.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// The job.
    pub job: Job,
    /// Warnings; never errors.
    pub warnings: Diagnostics,
    /// Bytes of each value by its path, such as `run.attic.length`.
    pub places: BTreeMap<String, Range<usize>>,
}

/// Text of a job file from its bytes.
///
/// # Errors
/// One diagnostic that names the place of the first byte that is not UTF-8.
pub fn decode<'a>(name: &str, bytes: &'a [u8]) -> Result<&'a str, Diagnostics> {
    std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let good = String::from_utf8_lossy(bytes.get(..at).unwrap_or_default()).into_owned();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let help = if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
            "the file is stored as UTF-16: save it again as UTF-8 (in most editors under \"save as\")"
        } else {
            "save the file again as UTF-8 (in most editors under \"save as\")"
        };
        // The rest of the line is shown with the bad byte replaced.
        let rest: String = String::from_utf8_lossy(bytes.get(at..(at + 60).min(bytes.len())).unwrap_or_default())
            .chars()
            .take_while(|&c| c != '\n')
            .collect();
        let text = format!("{good}{rest}");
        let end = rest.chars().next().map_or(at, |c| at + c.len_utf8());
        let diagnostic = Diagnostic::error("", at..end, format!("byte {at} (0x{byte:02X}) is not UTF-8 text"))
            .label("this character cannot be read")
            .help(help);
        Diagnostics::new(name, &text, vec![diagnostic])
    })
}

/// Reads a job file as designed.
///
/// `name` is shown in diagnostics and names a job that has no name of its own.
///
/// # Errors
/// Everything that is wrong, in one go.
pub fn read(name: &str, text: &str) -> Result<Read, Diagnostics> {
    read_tree(name, text).map(|(read, _)| read)
}

/// Reads a job file as built: every `[[built]]` value laid over the design.
///
/// # Errors
/// Everything that is wrong; a built value that does not fit is shown at its entry.
pub fn read_as_built(name: &str, text: &str) -> Result<Read, Diagnostics> {
    let design = read(name, text)?;
    if design.job.built.is_empty() {
        return Ok(design);
    }
    let sets: Vec<Set> = design
        .job
        .built
        .iter()
        .map(|built| Set { at: built.at.clone(), value: built.value.clone() })
        .collect();
    let laid_over = patch::apply_each(text, sets.iter()).map_err(|wrong| {
        let told = wrong.into_iter().map(|(number, error)| {
            let path = format!("built.{}.at", number + 1);
            let span = design.places.get(&path).cloned().unwrap_or(0..0);
            Diagnostic::error(&path, span, error.message)
                .label("cannot be laid over the design")
                .help(error.hint)
        });
        Diagnostics::new(name, text, told.collect())
    })?;
    read(&format!("{name} (as built)"), &laid_over)
}

/// What the reader asked for, beside the job: the tests compare it with the tables.
pub(crate) type Asked = std::collections::BTreeSet<(&'static str, &'static str)>;

pub(crate) fn read_tree(name: &str, text: &str) -> Result<(Read, Asked), Diagnostics> {
    let root = parse_toml(text).map_err(|list| Diagnostics::new(name, text, list))?;
    let mut context = Context::new(text, Origin::Written);
    let job = read_job(&mut context, name, &root);
    let failed = context.has_errors();
    let asked = std::mem::take(&mut context.asked);
    let (list, dropped, places) = context.finish();
    let mut diagnostics = Diagnostics::new(name, text, list);
    diagnostics.more += dropped;
    match job {
        Some(job) if !failed => Ok((Read { job, warnings: diagnostics, places }, asked)),
        _ => Err(diagnostics),
    }
}

/// The keys that are asked for while a text is read, whether it is a good job or not.
#[cfg(test)]
pub(crate) fn asked(text: &str) -> Asked {
    let root = parse_toml(text).unwrap();
    let mut context = Context::new(text, Origin::Written);
    let _: Option<Job> = read_job(&mut context, "job.toml", &root);
    context.asked
}

fn read_job(context: &mut Context<'_>, name: &str, root: &Node) -> Option<Job> {
    let Value::Table(entries) = &root.value else { return None };
    let top = Reader::open(context, &JOB, entries, 0..0, String::new());
    let format = top.format(context);
    let rule_book = top.text(context, "rule_book");
    let show = read_show(context, &top, rule_book.as_deref());
    context.style = match show {
        Show::Us => Style::US,
        Show::Metric => Style::METRIC,
    };
    let own_name = top.text(context, "name");
    let date = top.day(context, "date");
    let work = top.word(context, "work").unwrap_or(Work::New);
    let also_show = top.texts(context, "also_show");
    let amendments = top.texts(context, "amendments");
    let libraries = top.texts(context, "library");
    let notes = top.texts(context, "notes");
    let not_seen = top.texts(context, "not_seen");
    let site = read_site(context, &top);
    let dwelling = read_dwelling(context, &top);
    let rooms = elements(context, &top, "room", read_room);
    let grilles = elements(context, &top, "grille", read_grille);
    let fans = elements(context, &top, "fan", read_fan);
    let junctions = elements(context, &top, "junction", read_junction);
    let runs = elements(context, &top, "run", read_run);
    let terminals = elements(context, &top, "terminal", read_terminal);
    let framing = elements(context, &top, "framing", geometry::read_framing);
    let spaces = elements(context, &top, "space", geometry::read_space);
    let obstacles = elements(context, &top, "obstacle", geometry::read_obstacle);
    let ways_out = elements(context, &top, "way_out", geometry::read_way_out);
    let readings = elements(context, &top, "reading", read_reading);
    let symptoms = elements(context, &top, "symptom", read_symptom);
    let existing = read_existing(context, &top);
    let scenarios = elements(context, &top, "scenario", read_scenario);
    let overrides = elements(context, &top, "override", read_override);
    let built = elements(context, &top, "built", read_built);
    let settings = read_settings(context, &top);
    let mut job = Job {
        format,
        name: own_name.unwrap_or_else(|| stem(name)),
        date,
        show,
        work,
        rule_book,
        also_show,
        amendments,
        libraries,
        notes,
        not_seen,
        site,
        dwelling,
        rooms,
        grilles,
        fans,
        junctions,
        runs,
        terminals,
        framing,
        spaces,
        obstacles,
        ways_out,
        readings,
        symptoms,
        existing,
        scenarios,
        overrides,
        built,
        settings,
    };
    check::complete(context, &mut job);
    check::whole(context, &job);
    Some(job)
}

fn elements<T>(
    context: &mut Context<'_>,
    top: &Reader<'_>,
    name: &'static str,
    read: impl Fn(&mut Context<'_>, String, &Reader<'_>) -> T,
) -> Vec<T> {
    top.elements(context, name, &IdScope::Job)
        .into_iter()
        .map(|Element { id, reader }| read(context, id, &reader))
        .collect()
}

/// File name without folders and ending.
fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    file.strip_suffix(".toml").unwrap_or(file).to_owned()
}

fn read_show(context: &mut Context<'_>, top: &Reader<'_>, rule_book: Option<&str>) -> Show {
    if top.has("show") {
        return top.word(context, "show").unwrap_or(Show::Us);
    }
    // Asked for, so that the key counts as known.
    let _: Option<Show> = top.word(context, "show");
    let (show, why) = match rule_book {
        Some(book) if !book.starts_with("us-") => (Show::Metric, "the rule book is not a US one"),
        Some(_) => (Show::Us, "the rule book is a US one"),
        None => (Show::Us, "no rule book is named"),
    };
    let word = match show {
        Show::Us => "us",
        Show::Metric => "metric",
    };
    context.tell(
        Diagnostic::warning(
            "show",
            0..0,
            format!("`show` is left out; output is in {word} units, since {why}"),
        )
        .help(format!("write `show = \"{word}\"` at the top of the file")),
    );
    show
}

fn read_site(context: &mut Context<'_>, top: &Reader<'_>) -> Site {
    let site = top.section(context, "site");
    Site {
        altitude: site.quantity(context, "altitude"),
        indoor: site.quantity(context, "indoor"),
        outdoor: site.quantity(context, "outdoor"),
        humidity: site.quantity(context, "humidity"),
        weather: site.text(context, "weather"),
        climate: site.choice(context, "climate"),
        months: site.section_if(context, "months").and_then(|months| read_months(context, &months)),
        terrain: site.choice(context, "terrain"),
    }
}

fn read_months(context: &mut Context<'_>, months: &Reader<'_>) -> Option<Months> {
    let temperature = months.twelve(context, "temperature");
    let humidity = months.twelve(context, "humidity");
    let dew_point = months.twelve(context, "dew_point");
    let swing = months.twelve(context, "swing");
    let wind = months.twelve(context, "wind");
    // Missing temperatures are an error already; the job is not handed out then.
    Some(Months { temperature: temperature?, humidity, dew_point, swing, wind })
}

fn read_dwelling(context: &mut Context<'_>, top: &Reader<'_>) -> Dwelling {
    let dwelling = top.section(context, "dwelling");
    Dwelling {
        kind: dwelling.choice(context, "kind"),
        floor_area: dwelling.quantity(context, "floor_area"),
        volume: dwelling.quantity(context, "volume"),
        bedrooms: dwelling.count(context, "bedrooms"),
        year_built: dwelling.count(context, "year_built"),
        air_changes: dwelling.quantity(context, "air_changes"),
        leakage: dwelling.quantity(context, "leakage"),
        storeys: dwelling.count(context, "storeys"),
        occupants: dwelling.count(context, "occupants"),
        heating: dwelling.quantity(context, "heating"),
        air_conditioning: dwelling.yes_no(context, "air_conditioning"),
        cooling: dwelling.quantity(context, "cooling"),
        dehumidifier: dwelling.quantity(context, "dehumidifier"),
        moisture: dwelling.quantity(context, "moisture"),
        ventilation: read_ventilation(context, &dwelling),
        prices: read_prices(context, &dwelling),
        appliances: elements(context, &dwelling, "appliance", |context, id, reader| Appliance {
            id,
            kind: reader.choice(context, "kind"),
            draft: reader.choice(context, "draft"),
            limit: reader.quantity(context, "limit"),
            place: reader.reference(context, "place"),
        }),
        exhausts: elements(context, &dwelling, "exhaust", |context, id, reader| OtherExhaust {
            id,
            kind: reader.choice(context, "kind"),
            airflow: reader.quantity(context, "airflow"),
            length: reader.quantity(context, "length"),
            elbows: reader.count(context, "elbows"),
            joined_to: reader.reference(context, "joined_to"),
        }),
    }
}

fn read_ventilation(context: &mut Context<'_>, dwelling: &Reader<'_>) -> Ventilation {
    let ventilation = dwelling.section(context, "ventilation");
    Ventilation {
        kind: ventilation.choice(context, "kind"),
        airflow: ventilation.quantity(context, "airflow"),
        recovery: ventilation.quantity(context, "recovery"),
        moisture_recovery: ventilation.quantity(context, "moisture_recovery"),
        hours_per_day: ventilation.quantity(context, "hours_per_day"),
    }
}

fn read_prices(context: &mut Context<'_>, dwelling: &Reader<'_>) -> Prices {
    let prices = dwelling.section(context, "prices");
    Prices {
        electricity: prices.number(context, "electricity"),
        heat: prices.number(context, "heat"),
        cooling: prices.number(context, "cooling"),
        currency: prices.text(context, "currency"),
    }
}

fn read_usage(context: &mut Context<'_>, room: &Reader<'_>) -> Usage {
    let usage = room.section(context, "use");
    Usage {
        showers: usage.count(context, "showers"),
        minutes: usage.quantity(context, "minutes"),
        water: usage.quantity(context, "water"),
        water_temperature: usage.quantity(context, "water_temperature"),
        vapour: usage.quantity(context, "vapour"),
        baths: usage.count(context, "baths"),
        people: usage.count(context, "people"),
        gap: usage.quantity(context, "gap"),
        at: usage.times(context, "at"),
        door: usage.choice(context, "door"),
        drying: usage.quantity(context, "drying"),
        fan: usage.choice(context, "fan"),
        leave_on: usage.quantity(context, "leave_on"),
    }
}

fn read_surfaces(context: &mut Context<'_>, room: &Reader<'_>) -> Vec<Surface> {
    room.elements(context, "surface", &IdScope::Within)
        .into_iter()
        .map(|Element { id, reader }| Surface {
            id,
            // A missing kind is an error already; the job is not handed out then.
            kind: reader.word(context, "kind").unwrap_or(SurfaceKind::Mirror),
            area: reader.quantity(context, "area"),
            insulation: reader.quantity(context, "insulation"),
            other_side: reader.choice(context, "other_side"),
            heated: reader.quantity(context, "heated"),
            glazing: reader.choice(context, "glazing"),
        })
        .collect()
}

fn read_room(context: &mut Context<'_>, id: String, room: &Reader<'_>) -> Room {
    let fixtures = room.section(context, "fixtures");
    let window = room.section(context, "window");
    let door = room.section(context, "door");
    Room {
        id,
        name: room.text(context, "name"),
        // A missing kind is an error already; the job is not handed out then.
        kind: room.word(context, "kind").unwrap_or(RoomKind::Other),
        length: room.quantity(context, "length"),
        width: room.quantity(context, "width"),
        height: room.quantity(context, "height"),
        floor_area: room.quantity(context, "floor_area"),
        volume: room.quantity(context, "volume"),
        operation: room.choice(context, "operation"),
        asked: room.quantity(context, "asked"),
        fixtures: Fixtures {
            toilets: fixtures.count(context, "toilets"),
            showers: fixtures.count(context, "showers"),
            tubs: fixtures.count(context, "tubs"),
            jetted_tubs: fixtures.count(context, "jetted_tubs"),
        },
        window: Window {
            present: window.yes_no(context, "present"),
            glazed: window.quantity(context, "glazed"),
            openable: window.quantity(context, "openable"),
        },
        door: Door {
            width: door.quantity(context, "width"),
            gap: door.quantity(context, "gap"),
            transfer: door.quantity(context, "transfer"),
            coefficient: door.quantity(context, "coefficient"),
        },
        temperature: room.quantity(context, "temperature"),
        heater: room.quantity(context, "heater"),
        mixing: room.quantity(context, "mixing"),
        finish: room.choice(context, "finish"),
        finish_area: room.quantity(context, "finish_area"),
        textiles: room.quantity(context, "textiles"),
        usage: read_usage(context, room),
        surfaces: read_surfaces(context, room),
        plan: geometry::read_plan(context, room),
    }
}

fn read_grille(context: &mut Context<'_>, id: String, grille: &Reader<'_>) -> Grille {
    Grille {
        id,
        // Filled in afterwards when there is only one room.
        room: grille.reference(context, "room").unwrap_or_default(),
        free_area: grille.quantity(context, "free_area"),
        collar: grille.size(context, "collar"),
        point: grille.point(context, "point"),
    }
}

fn read_fan(context: &mut Context<'_>, id: String, fan: &Reader<'_>) -> Fan {
    Fan {
        id,
        room: fan.reference(context, "room"),
        model: fan.text(context, "model"),
        running: fan.yes_no(context, "running"),
        data: read_fan_data(context, fan),
        over_tub_or_shower: fan.yes_no(context, "over_tub_or_shower"),
        control: fan.choice(context, "control"),
        settings: read_fan_settings(context, fan),
        at: fan.place(context, "at"),
        rotation: fan.quantity(context, "rotation"),
    }
}

fn read_fan_settings(context: &mut Context<'_>, fan: &Reader<'_>) -> FanSettings {
    let settings = fan.section(context, "settings");
    FanSettings {
        on_at: settings.quantity(context, "on_at"),
        band: settings.quantity(context, "band"),
        rise: settings.quantity(context, "rise"),
        sampling: settings.quantity(context, "sampling"),
        lag: settings.quantity(context, "lag"),
        sensor: settings.choice(context, "sensor"),
        run_on: settings.quantity(context, "run_on"),
        max_run: settings.quantity(context, "max_run"),
        low_flow: settings.quantity(context, "low_flow"),
        off_delay: settings.quantity(context, "off_delay"),
    }
}

pub(crate) fn read_fan_data(context: &mut Context<'_>, fan: &Reader<'_>) -> FanData {
    FanData {
        name: fan.text(context, "name"),
        kind: fan.choice(context, "kind"),
        rated: fan.ratings(context, "rated"),
        curve: fan.curve(context, "curve"),
        holds_flow: fan.quantity(context, "holds_flow"),
        speed: fan.quantity(context, "speed"),
        loudness: fan.quantity(context, "loudness"),
        loudness_at: fan.quantity(context, "loudness_at"),
        power: fan.quantity(context, "power"),
        outlet: fan.size(context, "outlet"),
        housing: fan.sides(context, "housing"),
        body: geometry::read_housing(context, fan),
        damper: fan.yes_no(context, "damper"),
        max_equivalent_length: fan.quantity(context, "max_equivalent_length"),
        listed_wet: fan.yes_no(context, "listed_wet"),
        listed_continuous: fan.yes_no(context, "listed_continuous"),
        listed_rating: fan.yes_no(context, "listed_rating"),
        heater: fan.quantity(context, "heater"),
        notes: fan.text(context, "notes"),
    }
}

fn read_junction(context: &mut Context<'_>, id: String, junction: &Reader<'_>) -> Junction {
    Junction { id, kind: junction.choice(context, "kind") }
}

/// Reads what is known of a duct; `kind` and `model` are the names of those two keys in this table.
pub(crate) fn read_duct(
    context: &mut Context<'_>,
    duct: &Reader<'_>,
    kind: &'static str,
    model: Option<&'static str>,
) -> DuctGiven {
    DuctGiven {
        kind: duct.choice(context, kind),
        model: model.and_then(|key| duct.text(context, key)),
        size: duct.size(context, "size"),
        pulled: duct.choice(context, "pulled"),
        compression: duct.quantity(context, "compression"),
        roughness: duct.quantity(context, "roughness"),
        place: duct.choice(context, "place"),
        insulation: duct.quantity(context, "insulation"),
        support_spacing: duct.quantity(context, "support_spacing"),
        wall: duct.quantity(context, "wall"),
        slope: duct.choice(context, "slope"),
        cover: duct.quantity(context, "cover"),
        jacket: duct.choice(context, "jacket"),
        compressed: duct.quantity(context, "compressed"),
    }
}

fn read_run(context: &mut Context<'_>, id: String, run: &Reader<'_>) -> Run {
    let duct = read_duct(context, run, "duct", Some("duct_model"));
    let length = run.quantity(context, "length");
    let elbows = run.count(context, "elbows");
    let elbow_make = run.choice(context, "elbow_make");
    let parts = run.elements(context, "part", &IdScope::Within);
    let shape = if run.has("part") {
        for key in ["length", "elbows", "elbow_make"] {
            if run.has(key) {
                let path = run.path_of(key);
                context.tell(
                    Diagnostic::error(
                        &path,
                        run.span_of(key),
                        format!("`{path}` stands beside parts"),
                    )
                    .label("a run is described by its sum or by its parts, not by both")
                    .help(format!("leave `{key}` out here, or leave the parts out"))
                    .help("pieces and elbows of the parts are added up by the program"),
                );
            }
        }
        let mut so_far = Before { of_run: duct, fitting_size: None };
        so_far.fitting_size.clone_from(&so_far.of_run.size);
        let parts = parts.into_iter().filter_map(|Element { id, reader }| {
            let kind = read_part(context, &reader, &so_far)?;
            so_far.pass(&kind);
            Some(Part { id, kind })
        });
        RunShape::Parts(parts.collect())
    } else {
        RunShape::Sum(RunSum { duct, length, elbows, elbow_make })
    };
    Run {
        id,
        // Filled in afterwards when only one thing can be meant.
        from: run.reference(context, "from").unwrap_or_default(),
        to: run.reference(context, "to").unwrap_or_default(),
        seen: run.yes_no(context, "seen"),
        rise: run.quantity(context, "rise"),
        sealed: run.yes_no(context, "sealed"),
        shape,
    }
}

/// What counts for a part that does not say it itself.
struct Before {
    /// What the run says of its duct.
    of_run: DuctGiven,
    /// Size of fittings that come before any piece; later ones have the size of what they follow.
    fitting_size: GivenChoice<Section>,
}

impl Before {
    /// Once the air has come past a part: a transition ends the run's size, a piece that of fittings.
    fn pass(&mut self, kind: &PartKind) {
        match kind {
            PartKind::Transition { to, .. } if to.is_some() => {
                self.of_run.size = None;
                self.fitting_size = None;
            }
            PartKind::Piece { .. } => self.fitting_size = None,
            _ => {}
        }
    }
}

const PART_KINDS: [&str; 7] = ["piece", "elbow", "transition", "damper", "crush", "trap", "other"];

fn read_part(context: &mut Context<'_>, part: &Reader<'_>, before: &Before) -> Option<PartKind> {
    let written: Vec<&str> = PART_KINDS.into_iter().filter(|kind| part.has(kind)).collect();
    if written.len() != 1 {
        let message = match written.as_slice() {
            [] => format!("`{}` says nothing of what it is", part.path),
            several => format!("`{}` is {} at once", part.path, several.join(" and ")),
        };
        context.tell(
            Diagnostic::error(&part.path, part.span.clone(), message)
                .label("a part is exactly one thing")
                .help("write one of piece, elbow, transition, damper, crush, trap or other")
                .help("for example: elbow = { make = \"adjustable\", angle = \"90 deg\" }"),
        );
    }
    let mut found = None;
    if let Some(piece) = part.section_if(context, "piece") {
        let mut duct = read_duct(context, &piece, "duct", Some("duct_model"));
        lay_under(&mut duct, &before.of_run);
        found = Some(PartKind::Piece { length: piece.quantity(context, "length"), duct });
    }
    if let Some(elbow) = part.section_if(context, "elbow") {
        found = Some(PartKind::Elbow {
            make: elbow.choice(context, "make"),
            angle: elbow.quantity(context, "angle"),
            radius: elbow.quantity(context, "radius"),
            size: elbow.size(context, "size").or_else(|| before.fitting_size.clone()),
        });
    }
    if let Some(transition) = part.section_if(context, "transition") {
        found = Some(PartKind::Transition {
            to: transition.size(context, "to"),
            angle: transition.quantity(context, "angle"),
            shape: transition.choice(context, "shape"),
        });
    }
    if let Some(damper) = part.section_if(context, "damper") {
        found = Some(PartKind::Damper {
            kind: damper.choice(context, "kind"),
            angle: damper.quantity(context, "angle"),
            size: damper.size(context, "size").or_else(|| before.fitting_size.clone()),
        });
    }
    if let Some(crush) = part.section_if(context, "crush") {
        found = Some(PartKind::Crush {
            open: crush.quantity(context, "open"),
            size: crush.size(context, "size").or_else(|| before.fitting_size.clone()),
        });
    }
    if part.section_if(context, "trap").is_some() {
        found = Some(PartKind::Trap);
    }
    if let Some(other) = part.section_if(context, "other") {
        let name = other.text(context, "name");
        let point = other.point(context, "point");
        if let (Some(name), Some(point)) = (name, point) {
            found = Some(PartKind::Other { name, point });
        }
    }
    found
}

/// Fills what a duct does not say from another one that stands for more than it: the run of a piece,
/// or a library entry.
pub(crate) fn lay_under(duct: &mut DuctGiven, under: &DuctGiven) {
    fn fill<T: Clone>(value: &mut Option<T>, under: Option<&T>) {
        if value.is_none() {
            *value = under.cloned();
        }
    }
    // What belongs to one product is not carried over to another: a smooth piece in a run of flex has
    // neither the run's pull nor its roughness.
    let unsaid = |duct: &DuctGiven| duct.kind.is_none() && duct.model.is_none();
    let same_product = unsaid(duct)
        || unsaid(under)
        || (duct.kind.as_ref().map(|s| &s.value) == under.kind.as_ref().map(|s| &s.value)
            && duct.model == under.model);
    if same_product {
        fill(&mut duct.kind, under.kind.as_ref());
        fill(&mut duct.model, under.model.as_ref());
        fill(&mut duct.pulled, under.pulled.as_ref());
        fill(&mut duct.compression, under.compression.as_ref());
        fill(&mut duct.roughness, under.roughness.as_ref());
        fill(&mut duct.wall, under.wall.as_ref());
    }
    fill(&mut duct.size, under.size.as_ref());
    fill(&mut duct.place, under.place.as_ref());
    fill(&mut duct.insulation, under.insulation.as_ref());
    fill(&mut duct.support_spacing, under.support_spacing.as_ref());
    fill(&mut duct.slope, under.slope.as_ref());
    fill(&mut duct.cover, under.cover.as_ref());
    fill(&mut duct.jacket, under.jacket.as_ref());
    fill(&mut duct.compressed, under.compressed.as_ref());
}

fn read_terminal(context: &mut Context<'_>, id: String, terminal: &Reader<'_>) -> Terminal {
    let clear = terminal.section(context, "clear");
    Terminal {
        id,
        kind: terminal.choice(context, "kind"),
        model: terminal.text(context, "model"),
        size: terminal.size(context, "size"),
        flap: terminal.yes_no(context, "flap"),
        flap_opens: terminal.yes_no(context, "flap_opens"),
        screen: terminal.choice(context, "screen"),
        clogged: terminal.quantity(context, "clogged"),
        point: terminal.point(context, "point"),
        leak: terminal.quantity(context, "leak"),
        clear: Clearances {
            opening: clear.quantity(context, "opening"),
            above_opening: clear.quantity(context, "above_opening"),
            intake: clear.quantity(context, "intake"),
            above_intake: clear.quantity(context, "above_intake"),
            property_line: clear.quantity(context, "property_line"),
            onto_walkway: clear.yes_no(context, "onto_walkway"),
            above_grade: clear.quantity(context, "above_grade"),
            soffit_vent: clear.quantity(context, "soffit_vent"),
        },
    }
}

/// A terminal of which nothing was written.
pub(crate) fn unknown_terminal(id: String) -> Terminal {
    Terminal {
        id,
        kind: None,
        model: None,
        size: None,
        flap: None,
        flap_opens: None,
        screen: None,
        clogged: None,
        point: None,
        leak: None,
        clear: Clearances::default(),
    }
}

fn read_reading(context: &mut Context<'_>, id: String, reading: &Reader<'_>) -> Reading {
    let airflow = reading.quantity(context, "airflow");
    let pressure = reading.quantity(context, "pressure");
    let method: Option<dewpath_units::Stated<Choice<crate::model::Method>>> =
        reading.choice(context, "method");
    let by_paper = matches!(
        method.as_ref().map(|m| &m.value),
        Some(Choice::Known(crate::model::Method::Paper))
    );
    if airflow.is_none() && pressure.is_none() && !by_paper {
        context.tell(
            Diagnostic::error(&reading.path, reading.span.clone(), format!("`{}` holds neither an airflow nor a pressure", reading.path))
                .label("what was measured?")
                .help("for example: airflow = \"42 cfm\"; a sheet of paper that is held is method = \"paper\" without a number"),
        );
    }
    Reading {
        id,
        at: reading.reference(context, "at").unwrap_or_default(),
        airflow,
        pressure,
        method,
        state: reading.choice(context, "state"),
    }
}

fn read_symptom(context: &mut Context<'_>, id: String, symptom: &Reader<'_>) -> Symptom {
    Symptom {
        id,
        // A missing kind is an error already; the job is not handed out then.
        kind: symptom.word(context, "kind").unwrap_or(SymptomKind::Fog),
        when: symptom.text(context, "when"),
        season: symptom.choice(context, "season"),
        rain: symptom.yes_no(context, "rain"),
        fan_on: symptom.yes_no(context, "fan_on"),
        wet: symptom.choice(context, "wet"),
        note: symptom.text(context, "note"),
        photo: symptom.text(context, "photo"),
    }
}

fn read_existing(context: &mut Context<'_>, top: &Reader<'_>) -> Existing {
    let existing = top.section(context, "existing");
    Existing {
        opening: existing.sides(context, "opening"),
        depth: existing.quantity(context, "depth"),
        collar: existing.size(context, "collar"),
        wire: existing.quantity(context, "wire"),
        neutral: existing.yes_no(context, "neutral"),
        access_above: existing.yes_no(context, "access_above"),
        duct_stays: existing.yes_no(context, "duct_stays"),
    }
}

fn read_scenario(context: &mut Context<'_>, id: String, scenario: &Reader<'_>) -> Scenario {
    Scenario {
        id,
        wind: scenario.quantity(context, "wind"),
        facing: scenario.choice(context, "facing"),
        outdoor: scenario.quantity(context, "outdoor"),
        doors: scenario.choice(context, "doors"),
        off: scenario.references(context, "off"),
    }
}

fn read_override(context: &mut Context<'_>, _: String, entry: &Reader<'_>) -> Override {
    let finding = entry.text(context, "finding").unwrap_or_default();
    let subject = entry.text(context, "subject");
    let reason = entry.text(context, "reason").unwrap_or_default();
    if entry.has("reason") && reason.trim().is_empty() {
        let path = entry.path_of("reason");
        context.tell(
            Diagnostic::error(
                &path,
                entry.span_of("reason"),
                "an override without a reason cannot be printed",
            )
            .label("say why")
            .help("for example: reason = \"the maker's duct sheet allows it; copy on file\""),
        );
    }
    Override { finding, subject, reason }
}

fn read_built(context: &mut Context<'_>, _: String, entry: &Reader<'_>) -> Built {
    Built {
        at: entry.text(context, "at").unwrap_or_default(),
        value: entry.raw(context, "value").unwrap_or_default(),
        date: entry.text(context, "date"),
        photo: entry.text(context, "photo"),
    }
}

fn read_settings(context: &mut Context<'_>, top: &Reader<'_>) -> Settings {
    let settings = top.section(context, "settings");
    let usual = Settings::default();
    let holds_at = settings.number(context, "holds_at").unwrap_or(usual.holds_at);
    let fails_at = settings.number(context, "fails_at").unwrap_or(usual.fails_at);
    let draws = settings.number(context, "draws").map_or(usual.draws, |draws| draws as u32);
    if fails_at >= holds_at {
        context.tell(
            Diagnostic::error(
                "settings.fails_at",
                settings.span_of("fails_at"),
                "`fails_at` must be below `holds_at`",
            )
            .label("at or above `holds_at`")
            .help("for example: holds_at = 0.90 and fails_at = 0.10"),
        );
    }
    Settings { holds_at, fails_at, draws }
}

impl Read {
    /// Whether any warning was given.
    pub fn has_warnings(&self) -> bool {
        self.warnings.list.iter().any(|d| d.severity == Severity::Warning)
    }
}
