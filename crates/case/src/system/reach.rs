//! How far a walk along the runs reaches.

use dewpath_job::model::{Job, Run};

/// Rooms whose air goes through a fan, by index.
pub fn rooms_of_fan(job: &Job, fan: usize) -> Vec<usize> {
    let id = &job.fans[fan].id;
    let is_room = |end: &str| job.rooms.iter().any(|room| room.id == end);
    let is_grille = |end: &str| job.grilles.iter().any(|grille| grille.id == end);
    let ends = reached(vec![id], |end| {
        let stops = is_room(end) || is_grille(end);
        into(job, end).filter(move |_| !stops).map(|run| run.from.as_str())
    });
    let own = job.fans[fan].room.as_deref();
    let mut rooms: Vec<usize> = own
        .into_iter()
        .chain(ends.into_iter().map(|end| {
            let grille = job.grilles.iter().find(|grille| grille.id == end);
            grille.map_or(end, |grille| grille.room.as_str())
        }))
        .filter_map(|id| job.rooms.iter().position(|room| room.id == id))
        .collect();
    rooms.sort_unstable();
    rooms.dedup();
    rooms
}

/// Fans whose air goes through a run, by index: the next ones upstream, or else the one that it leads into.
pub(crate) fn fans_of_run(job: &Job, run: &Run) -> Vec<usize> {
    let upstream = reached(vec![&run.from], |end| {
        let stops = is_fan(job, end);
        into(job, end).filter(move |_| !stops).map(|run| run.from.as_str())
    });
    let found = fans_among(job, &upstream);
    if found.is_empty() { fans_among(job, &[&run.to]) } else { found }
}

/// Fans that a run hangs together with through ducts, by index.
pub(crate) fn fans_joined(job: &Job, run: &Run) -> Vec<usize> {
    let ends = reached(vec![&run.from, &run.to], |end| {
        // Rooms join runs through the house, not through ducts.
        let stops = job.rooms.iter().any(|room| room.id == end);
        let touching = job.runs.iter().filter(move |run| run.from == end || run.to == end);
        touching.filter(move |_| !stops).flat_map(|run| [run.from.as_str(), run.to.as_str()])
    });
    fans_among(job, &ends)
}

/// Whether a fan sucks on a run: at its end, or past the junctions behind it.
pub(super) fn leads_to_fan(job: &Job, run: &Run) -> bool {
    let downstream = reached(vec![&run.to], |end| {
        let onward = job.runs.iter().find(|run| run.from == end && !is_fan(job, end));
        onward.into_iter().map(|run| run.to.as_str())
    });
    downstream.into_iter().any(|end| is_fan(job, end))
}

/// These ends and every one that is reached from them, the nearest first.
fn reached<'a, Next: Iterator<Item = &'a str>>(
    mut ends: Vec<&'a str>,
    next: impl Fn(&'a str) -> Next,
) -> Vec<&'a str> {
    let mut index = 0;
    while index < ends.len() {
        for end in next(ends[index]) {
            if !ends.contains(&end) {
                ends.push(end);
            }
        }
        index += 1;
    }
    ends
}

/// Runs that lead to an end.
fn into<'a>(job: &'a Job, end: &'a str) -> impl Iterator<Item = &'a Run> {
    job.runs.iter().filter(move |run| run.to == end)
}

fn is_fan(job: &Job, end: &str) -> bool {
    job.fans.iter().any(|fan| fan.id == end)
}

/// The fans among some ends, in their order.
fn fans_among(job: &Job, ends: &[&str]) -> Vec<usize> {
    ends.iter().filter_map(|end| job.fans.iter().position(|fan| fan.id == *end)).collect()
}
