//! How far a fan reaches along the runs.

use dewpath_job::model::Job;

/// Rooms whose air goes through a fan, by index.
pub fn rooms_of_fan(job: &Job, fan: usize) -> Vec<usize> {
    let id = &job.fans[fan].id;
    let mut rooms: Vec<usize> = job
        .rooms
        .iter()
        .enumerate()
        .filter(|(_, room)| job.fans[fan].room.as_ref() == Some(&room.id))
        .map(|(index, _)| index)
        .collect();
    // Upstream along the runs: grilles of other rooms.
    let mut ends = vec![id.as_str()];
    let mut index = 0;
    while index < ends.len() {
        let end = ends[index];
        for run in job.runs.iter().filter(|run| run.to == end) {
            if let Some(grille) = job.grilles.iter().find(|grille| grille.id == run.from) {
                rooms.extend(job.rooms.iter().position(|room| room.id == grille.room));
            } else if let Some(room) = job.rooms.iter().position(|room| room.id == run.from) {
                rooms.push(room);
            } else if !ends.contains(&run.from.as_str()) {
                ends.push(&run.from);
            }
        }
        index += 1;
    }
    rooms.sort_unstable();
    rooms.dedup();
    rooms
}
