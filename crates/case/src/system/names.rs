//! What an item of the graph is called.

use dewpath_job::model::{Job, PartKind, RunShape};
use dewpath_report::say::LossOf;

use super::spec::{Owner, Spec};

/// Name of an item: the user's id where there is one, and a word of ours for what it is.
pub fn loss_name(job: &Job, owner: &Owner, spec: &Spec) -> (String, LossOf) {
    let what = match spec {
        Spec::Leak { .. } => LossOf::Shell,
        Spec::Joints(_) => LossOf::Joints,
        Spec::Door(_) => LossOf::Door,
        Spec::Fan(_) => LossOf::Fan,
        Spec::Piece { .. } => LossOf::Piece,
        Spec::Elbow { .. } => LossOf::Elbow,
        Spec::Transition { .. } => LossOf::Transition,
        Spec::Backdraft { .. } => LossOf::Damper,
        Spec::Balancing { .. } => LossOf::Balancing,
        Spec::Crush { .. } => LossOf::Crush,
        Spec::Point { .. } => LossOf::Other,
        Spec::SystemEffect { .. } => LossOf::SystemEffect,
        Spec::Grille { .. } => LossOf::Grille,
        Spec::Terminal(_) => LossOf::Terminal,
        Spec::Meeting { .. } => LossOf::Meeting,
    };
    let name = match owner {
        Owner::Shell => "dwelling".to_owned(),
        Owner::Joints { run } => job.runs[*run].id.clone(),
        Owner::Door { room } => job.rooms[*room].id.clone(),
        Owner::Fan { fan } => job.fans[*fan].id.clone(),
        Owner::Grille { grille } => job.grilles[*grille].id.clone(),
        Owner::Part { run, part } => part_name(job, *run, part),
        Owner::Meeting { junction, .. } => job.junctions[*junction].id.clone(),
        Owner::Terminal { terminal } => job.terminals[*terminal].id.clone(),
    };
    (name, what)
}

/// A part that has a name of its own is shown with it.
fn part_name(job: &Job, run: usize, part: &str) -> String {
    if let RunShape::Parts(parts) = &job.runs[run].shape
        && let Some(found) = parts.iter().find(|p| p.id == part)
        && let PartKind::Other { name, .. } = &found.kind
    {
        return name.clone();
    }
    part.to_owned()
}
