//! Safety cautions, only where the job touches them. They defer to local codes and licensed trades.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::{DuctGiven, PartKind, RunShape, Surroundings, TerminalKind, Work};
use dewpath_message::Citation;
use dewpath_message::slot::Reference;
use dewpath_report::say::{Beware, SourceSection, SourceSectionKey, SourceText};
use dewpath_report::{SafetyCaution, Source};
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
    let mut add = |applies: bool, beware: Beware, source: Source| {
        if applies {
            list.push(told(beware, source));
        }
    };
    add(true, Beware::Authority, Source::practice());
    add(
        !job.fans.is_empty(),
        Beware::Wiring,
        Source::memory(Citation("OSHA 29 CFR 1910.333 and 1926.416"), ""),
    );
    add(
        !job.dwelling.appliances.is_empty()
            || (!job.fans.is_empty() && given::yes(&job.dwelling.burns_fuel) != Some(false)),
        Beware::Combustion,
        Source::confirmed(Citation("ASTM E1998"), SourceText::SpillageTest),
    );
    add(
        places.contains(&Surroundings::JoistBay),
        Beware::Structure,
        Source::confirmed(Citation("IRC"), Citation("R502.8, R802.10.4")),
    );
    add(
        places.contains(&Surroundings::Attic),
        Beware::Attic,
        Source::memory(Citation("OSHA, NIOSH"), SourceText::WorkInAttics),
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
        Beware::Ladder,
        Source::memory(Citation("OSHA 29 CFR 1926.1053 and 1926.501"), ""),
    );
    add(
        terminals.contains(&TerminalKind::WallCap),
        Beware::Silica,
        Source::confirmed(
            Citation("OSHA 29 CFR 1926.1153"),
            SourceSection {
                key: SourceSectionKey::WhereMasonry,
                section: Reference::new("Table 1"),
            },
        ),
    );
    add(
        before(1978),
        Beware::Lead,
        Source::confirmed(Citation("40 CFR 745"), SourceText::HousingBefore1978),
    );
    add(
        before(1990) && (places.contains(&Surroundings::Attic) || old_work),
        Beware::Asbestos,
        Source::confirmed(Citation("EPA and ATSDR pages on vermiculite insulation"), ""),
    );
    add(
        terminals.contains(&TerminalKind::SharedRiser),
        Beware::FireSeparation,
        Source::confirmed(
            Citation("IRC"),
            SourceSection {
                key: SourceSectionKey::WhereItApplies,
                section: Reference::new("R302.2, R302.4"),
            },
        ),
    );
    if let Some(book) = &case.world.rule_book {
        list.extend(book.permit_notes().iter().map(permit));
    }
    list
}

/// A note on permits, as the book in force has it.
fn permit(note: &Ruled<PermitNote>) -> SafetyCaution {
    let beware = match note.value {
        PermitNote::MechanicalPermit => Beware::PermitMechanical,
        PermitNote::ElectricalPermit => Beware::PermitElectrical,
        PermitNote::AlarmsExemptMechanicalOnly => Beware::PermitAlarms,
        PermitNote::InstructionsLeft => Beware::PermitInstructions,
        PermitNote::AirflowPosted => Beware::PermitAirflowPosted,
        PermitNote::CompletionNotice => Beware::PermitCompletion,
    };
    told(beware, source::ruled(note))
}

fn told(beware: Beware, source: Source) -> SafetyCaution {
    let id = beware.key().trim_start_matches("caution.").to_owned();
    SafetyCaution { id, message: beware.into(), source }
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
