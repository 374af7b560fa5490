//! A housing that is dragged over the ceiling: where it hangs, how its duct then leads outdoors and what that gives, step by step.
//! It stands apart from the report, which judges what is written.
//!
//! What does not change on the way (members, room, ducts, weather) is worked out once, in [`Drag::new`]; a step is a place, a
//! search to one way out and a nominal evaluation.

use dewpath_case::World;
use dewpath_case::{Basis, Case};
use dewpath_job::model::Job;
use dewpath_judge::dry;
use dewpath_judge::dry::LikelyDay;
use dewpath_layout::route::Over;
use dewpath_report::{Clearing, Finding, Placement, RouteResult};
use serde::Serialize;

use crate::floor::Floor;
use crate::place::{Seat, Start};
use crate::route;
use crate::route::Wanted;

/// Where a housing under a hand hangs, and what follows from it at the likely values.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Dragged {
    /// The legal place nearest to the hand, or the one beside it from which a way leads outdoors; its offset is counted from the wish
    /// of the room, its rank is 1.
    pub placement: Placement,
    /// The way outdoors from there; none where none leads to the way out that is held to, or too little is known.
    pub way: Option<RouteResult>,
    /// The room through its design shower with that way; none where there is no way or too little is known.
    pub clearing: Option<Clearing>,
    /// What the same day leaves in its duct and at the housings; empty as above, or where none of it is judged.
    pub water: Vec<Finding>,
}

/// A housing that is being moved over the ceiling.
#[derive(Debug)]
pub struct Drag {
    fan: usize,
    wanted: Wanted,
    floor: Floor,
    seat: Seat,
    basis: Basis,
}

impl Drag {
    /// Begins to drag the housing of a fan. The way outdoors is held to one way out and one duct where they are named, else the
    /// best is looked for at each step. None where members, room or housing are not known, or can't be; the report says which.
    pub fn new(
        job: &Job,
        world: &World,
        fan: &str,
        way_out: Option<&str>,
        duct: Option<&str>,
    ) -> Option<Self> {
        let fan = job.fans.iter().position(|known| known.id == fan)?;
        let mut floor = Floor::of(job);
        let seat = Seat::of_fan(job, &mut floor, fan)?;
        let basis = Basis::of(job, world, 0);
        let wanted = Wanted { way_out: way_out.map(str::to_owned), duct: duct.map(str::to_owned) };
        Some(Self { fan, wanted, floor, seat, basis })
    }

    /// Where the housing hangs under a hand at x and y, metres, and what follows. `job` and `world` are those it was taken from.
    /// None where it hangs nowhere.
    pub fn at(&self, job: &Job, world: &World, at_m: [f64; 2]) -> Option<Dragged> {
        let fan = job.fans.get(self.fan)?;
        let places = self.seat.around(job, &self.floor, self.fan, at_m);
        let case = self.basis.case(job, world, None);
        let way =
            |start: &Start, over: Over| route::to(&case, &self.floor, start, &self.wanted, over);
        // A way may begin at one side of the housing alone. Most are found over few coordinates.
        let of =
            |(place, start): &(Placement, Start), over| Some((place.clone(), way(start, over)?));
        let quick = places.iter().find_map(|place| of(place, Over::Held));
        let first = quick.or_else(|| of(places.first()?, Over::All));
        let Some((placement, (way, built))) = first else {
            let (placement, _) = places.into_iter().next()?;
            return Some(Dragged { placement, way: None, clearing: None, water: Vec::new() });
        };
        let day = fan.room.as_deref().and_then(|room| day(&case, &built, room));
        let (clearing, water) = day.map(|day| (day.clearing, day.water)).unzip();
        Some(Dragged { placement, way: Some(way), clearing, water: water.unwrap_or_default() })
    }
}

/// The room of the fan through its design day, with the run that a way makes of the job that was looked at `before`.
fn day(before: &Case<'_>, job: &Job, room: &str) -> Option<LikelyDay> {
    let world = before.world;
    let room = job.rooms.iter().position(|known| known.id == room)?;
    let basis = Basis::beside(before, job, 0);
    let flows = basis.flows(job).ok()?;
    // The site is the same, and so is its weather.
    let case = Case { weather: before.weather, ..basis.case(job, world, Some(&flows)) };
    dry::likely_day(&case, room)
}
