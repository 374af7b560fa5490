//! Runs of duct and the points where they meet.

use dewpath_message::slot::Reference;
use dewpath_units::Length;

use crate::category::category;
use crate::diagnostic::Diagnostic;
use crate::keys::{Declared, InTable as _, Keys, Place, count, elements, in_order};
use crate::limits::RUN_LENGTH;
use crate::model::duct::DuctGiven;
use crate::model::part::{Before, ElbowMake, Part};
use crate::read::{Context, Reader};
use crate::say::{self, Do, Label};
use crate::spec::{Key, Shape};
use crate::value::{Given, GivenChoice, GivenCount, GivenYesNo};
use crate::write::Writer;

/// A point where runs meet.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "junction", written = "[[junction]]")]
pub struct Junction {
    /// Stable id; may be left out when there is only one junction.
    #[key(id, example = "wye")]
    pub id: String,
    /// What it is.
    #[key(example = "wye")]
    pub kind: GivenChoice<JunctionKind>,
}

category! {
    /// Kind of junction.
    pub enum JunctionKind {
        /// 45 degree wye.
        Wye = "wye",
        /// 90 degree tee.
        Tee = "tee",
        /// Plenum or box: every stream loses its velocity pressure.
        Box = "box",
    }
}

/// A run of duct, in the direction of the air. Describe it by its sum (`length`, `elbows`), or part by part with
/// \[\[run.part\]\], never both. What is written of the duct here holds for every part that does not say
/// otherwise; pull, compression, roughness and wall go only to parts of the same kind of duct.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "run", written = "[[run]]")]
pub struct Run {
    /// Stable id; may be left out when there is only one run.
    #[key(id, example = "attic")]
    pub id: String,
    /// Id of the fan, grille or junction where air enters; may be left out when there is one run and one fan.
    #[key(example = "fan", refers = "fan, grille or junction")]
    pub from: String,
    /// Id of the terminal, fan or junction where air leaves; may be left out when there is one run and at most
    /// one terminal.
    #[key(example = "cap", refers = "terminal, fan or junction")]
    pub to: String,
    /// Whether the whole run was seen.
    #[key(example = true, after = "rise")]
    pub seen: GivenYesNo,
    /// Rise from start to end; a fall is negative.
    #[key(
        example = "6 ft",
        signed,
        possible(-100.0, 100.0),
        usual(-30.0, 30.0),
        after = "elbow_make",
    )]
    pub rise: Given<Length>,
    /// Whether its joints are sealed.
    #[key(example = true, after = "seen")]
    pub sealed: GivenYesNo,
    /// How it is described.
    #[key(flatten, required)]
    pub shape: RunShape,
}

/// How a run is described: by its sum, or part by part.
#[expect(
    clippy::large_enum_variant,
    reason = "a job has a handful of these; a box would only be in the way"
)]
#[derive(Debug, Clone, PartialEq)]
pub enum RunShape {
    /// One kind of duct, a total length and a number of elbows.
    Sum(RunSum),
    /// Part by part, in the direction of flow.
    Parts(Vec<Part>),
}

impl RunShape {
    const DECLARED: &[Declared] = &[
        Declared::Flat { keys: RunSum::KEYS, without: &[], renamed: &[], examples: &[] },
        Declared::Key(
            Key {
                name: "part",
                shape: Shape::Many(Part::TABLE),
                required: false,
                doc: "One part of the run.",
                example: r#"{ id = "p1", piece = { length = "6 ft" } }"#,
            },
            Place::InOrder,
        ),
    ];
    const IN_ORDER: [Key; count(Self::DECLARED)] = in_order(Self::DECLARED);
}

/// A key, where it is written, that says a second time what stands there otherwise.
fn beside(
    run: &Reader<'_>,
    key: &'static str,
    what: say::AtPathKey,
    why: Label,
) -> Option<Diagnostic> {
    let path = run.path_of(key);
    run.has(key).then(|| {
        Diagnostic::error(&path, run.span_of(key), what.of(&path))
            .label(why)
            .help(say::LeaveKeyOut { key: Reference::new(key) })
    })
}

/// By hand, since only one of the two is written.
impl Keys for RunShape {
    const KEYS: &'static [Key] = &Self::IN_ORDER;

    fn read(context: &mut Context<'_>, run: &Reader<'_>) -> Option<Self> {
        let sum = RunSum::read(context, run).unwrap_or_default();
        let mut parts: Vec<Part> = elements(context, run, "part");
        if !run.has("part") {
            if run.has("equivalent_length") {
                for told in ["length", "elbows"].into_iter().filter_map(|key| {
                    beside(run, key, say::AtPathKey::BesideEquivalent, Label::HoldsElbows)
                }) {
                    context.tell(told);
                }
            }
            return Some(Self::Sum(sum));
        }
        let of_sum = ["length", "elbows", "equivalent_length", "elbow_make"];
        for told in of_sum
            .into_iter()
            .filter_map(|key| beside(run, key, say::AtPathKey::BesideParts, Label::SumOrParts))
        {
            context.tell(told.help(Do::LeaveAddingUp));
        }
        let mut before = Before::at_start(sum.duct);
        for part in &mut parts {
            before.complete(&mut part.kind);
        }
        Some(Self::Parts(parts))
    }

    fn write(&self, before: Option<&Self>, writer: &mut Writer) {
        let (no_sum, no_parts) = (RunSum::default(), Vec::new());
        let (old, old_parts) = match before {
            Some(Self::Sum(sum)) => (Some(sum), Some(&no_parts)),
            Some(Self::Parts(parts)) => (Some(&no_sum), Some(parts)),
            None => (None, None),
        };
        let (sum, parts) = match self {
            Self::Sum(sum) => (sum, &no_parts),
            Self::Parts(parts) => (&no_sum, parts),
        };
        sum.write(old, writer);
        writer.elements("part", old_parts.map(Vec::as_slice), parts);
        // What the run says of its duct stood for parts that are no longer there.
        let stays = |old: &Part| parts.iter().any(|part| part.id == old.id);
        if let (Some(Self::Parts(old)), Self::Parts(_)) = (before, self)
            && !old.iter().any(stays)
        {
            for key in DuctGiven::KEYS {
                writer.remove(key.name);
            }
        }
    }
}

/// A run described by its sum.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
pub struct RunSum {
    /// The duct.
    #[key(flatten)]
    pub duct: DuctGiven,
    /// Total length along the duct.
    #[key(example = "12 ft", limits = RUN_LENGTH, after = "jacket", read = read_length)]
    pub length: Given<Length>,
    /// 90 degree elbows.
    #[key(example = 2, possible(60), usual(12), after = "length")]
    pub elbows: GivenCount,
    /// Length with its elbows counted in, as a maker's sheet or a book adds it up; in place of `length` and `elbows`.
    #[key(example = "75 ft", limits = RUN_LENGTH, after = "elbows")]
    pub equivalent_length: Given<Length>,
    /// How the elbows are made.
    #[key(example = "adjustable", after = "equivalent_length")]
    pub elbow_make: GivenChoice<ElbowMake>,
}

/// A length along the duct. One that is called equivalent belongs to another key.
fn read_length(context: &mut Context<'_>, run: &Reader<'_>, name: &'static str) -> Given<Length> {
    let text = run.peek(name).unwrap_or_default();
    let Some(at) = text.to_ascii_lowercase().find("equiv") else {
        return run.quantity(context, name);
    };
    let path = run.path_of(name);
    let example = format!("equivalent_length = \"{}\"", text[..at].trim());
    context.tell(
        Diagnostic::error(&path, run.span_of(name), say::AtPathKey::Equivalent.of(&path))
            .label(Label::HoldsElbows)
            .help(say::WriteLike { line: Reference::new(example) }),
    );
    None
}
