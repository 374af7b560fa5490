//! Safety cautions, only where the job touches them. They defer to local codes and licensed trades.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::{DuctGiven, PartKind, RunShape, Surroundings, TerminalKind, Work};
use dewpath_report::{Message, SafetyCaution, Source};
use dewpath_rulebook::{PermitNote, Ruled};

/// Cautions that this job touches.
pub(crate) fn cautions(case: &Case<'_>) -> Vec<SafetyCaution> {
    let job = case.job;
    let places = places(case);
    let year = given::count_bounds(&job.dwelling.year_built);
    let before = |limit: u32| year.is_none_or(|(low, _)| low < limit);
    let terminals: Vec<TerminalKind> = job
        .terminals
        .iter()
        .flat_map(|t| t.kind.as_ref().map(|s| s.value.options().to_vec()).unwrap_or_default())
        .collect();
    let old_work = job.work != Work::New;
    let mut list = Vec::new();
    let mut add = |applies: bool, id: &str, source: Source| {
        if applies {
            let message = Message::new(&format!("caution.{id}"));
            list.push(SafetyCaution { id: id.to_owned(), message, source });
        }
    };
    add(true, "authority", Source::practice());
    add(!job.fans.is_empty(), "wiring", Source::memory("OSHA 29 CFR 1910.333 and 1926.416", ""));
    add(
        !job.dwelling.appliances.is_empty() || !job.fans.is_empty(),
        "combustion",
        Source::confirmed("ASTM E1998", "worst-case depressurisation and spillage test"),
    );
    add(
        places.contains(&Surroundings::JoistBay),
        "structure",
        Source::confirmed("IRC", "R502.8, R802.10.4"),
    );
    add(
        places.contains(&Surroundings::Attic),
        "attic",
        Source::memory("OSHA, NIOSH", "work in attics"),
    );
    add(
        terminals.iter().any(|kind| {
            matches!(
                kind,
                TerminalKind::RoofCap
                    | TerminalKind::GableCap
                    | TerminalKind::SoffitCap
                    | TerminalKind::WallCap
            )
        }),
        "ladder",
        Source::memory("OSHA 29 CFR 1926.1053 and 1926.501", ""),
    );
    add(
        terminals.contains(&TerminalKind::WallCap),
        "silica",
        Source::confirmed("OSHA 29 CFR 1926.1153", "Table 1, where the wall is masonry"),
    );
    add(before(1978), "lead", Source::confirmed("40 CFR 745", "housing before 1978"));
    add(
        before(1990) && (places.contains(&Surroundings::Attic) || old_work),
        "asbestos",
        Source::confirmed("EPA and ATSDR pages on vermiculite insulation", ""),
    );
    add(
        terminals.contains(&TerminalKind::SharedRiser),
        "fire-separation",
        Source::confirmed("IRC", "R302.2, R302.4, where it applies"),
    );
    if let Some(book) = &case.world.rule_book {
        list.extend(book.permit_notes().iter().map(permit));
    }
    list
}

/// A note on permits, as the book in force has it.
fn permit(note: &Ruled<PermitNote>) -> SafetyCaution {
    let id = match note.value {
        PermitNote::MechanicalPermit => "permit.mechanical",
        PermitNote::ElectricalPermit => "permit.electrical",
        PermitNote::AlarmsExemptMechanicalOnly => "permit.alarms",
        PermitNote::InstructionsLeft => "permit.instructions",
        PermitNote::AirflowPosted => "permit.airflow-posted",
        PermitNote::CompletionNotice => "permit.completion",
    };
    SafetyCaution {
        id: id.to_owned(),
        message: Message::new(&format!("caution.{id}")),
        source: source::ruled(note),
    }
}

fn places(case: &Case<'_>) -> Vec<Surroundings> {
    let mut found = Vec::new();
    let mut add = |duct: &DuctGiven| {
        found.extend(duct.place.as_ref().map(|s| s.value.options().to_vec()).unwrap_or_default());
    };
    for run in &case.job.runs {
        match &run.shape {
            RunShape::Sum(sum) => add(&sum.duct),
            RunShape::Parts(parts) => {
                for part in parts {
                    if let PartKind::Piece { duct, .. } = &part.kind {
                        add(duct);
                    }
                }
            }
        }
    }
    found
}
