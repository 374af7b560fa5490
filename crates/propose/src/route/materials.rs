//! What to bring for a way outdoors.

use dewpath_layout::route::Route;
use dewpath_message::slot::{AngleDeg, Count, DiameterMm, Name, Reference};
use dewpath_report::say::{
    MaterialCap, MaterialCement, MaterialDuct, MaterialElbows, MaterialInsulation, MaterialScrews,
    MaterialSupports,
};
use dewpath_report::{Message, Triple};
use dewpath_units::{Category as _, Style};

use super::ducts::{Choice, first_duct};
use super::laying::Laid;
use super::task::{Task, length, run_of};
use super::written::make;

/// Duct, elbows, supports, fasteners of the joints, insulation and what the way ends in, each counted from the way itself.
pub(super) fn materials(
    task: &Task<'_>,
    route: &Route,
    choice: &Choice,
    built: &Laid,
    cap: &str,
) -> Vec<Message> {
    let jointing = &built.jointing;
    let mut all = vec![Message::from(MaterialDuct {
        duct: Reference::new(&route.duct),
        length: length(built.straight_m()),
        count: count(jointing.piece_count as usize),
        sold: length(jointing.sold_m),
    })];
    all.extend(elbows(route, choice));
    if !built.supports_m.is_empty() {
        all.push(Message::from(MaterialSupports { count: count(built.supports_m.len()) }));
    }
    let screwed = jointing.joints.iter().filter(|joint| joint.made == "made-screwed").count();
    let cemented = jointing.joints.len() - screwed;
    if screwed > 0 {
        let screws = count(screwed * jointing.screw_count as usize);
        all.push(Message::from(MaterialScrews {
            count: screws,
            joints: count(screwed),
            seals: Name::new(jointing.seals.join(", ")),
        }));
    }
    if cemented > 0 {
        all.push(Message::from(MaterialCement { joints: count(cemented) }));
    }
    let jacket = first_duct(run_of(task)).and_then(|duct| duct.insulation.as_ref());
    if let Some(stated) = jacket.filter(|_| task.jacket_m > 0.0) {
        let label = stated.value.print(&Style::US);
        all.push(Message::from(MaterialInsulation {
            label: Name::new(label),
            length: length(built.straight_m()),
        }));
    }
    all.push(Message::from(MaterialCap { cap: Name::new(cap) }));
    all
}

/// Elbows of each angle and make.
fn elbows(route: &Route, choice: &Choice) -> Vec<Message> {
    let mut kinds: Vec<(&str, f64, usize)> = Vec::new();
    for bend in &route.bends {
        // A fitting has one angle.
        let known = kinds.iter_mut().find(|(id, _, _)| *id == bend.bend);
        match known {
            Some((_, _, many)) => *many += 1,
            None => kinds.push((&bend.bend, bend.turn_deg, 1)),
        }
    }
    let told = |(id, turn_deg, many): (&str, f64, usize)| {
        Message::from(MaterialElbows {
            count: count(many),
            turn: AngleDeg(Triple::exact(turn_deg)),
            make: Name::new(make(id).word()),
            size: DiameterMm(Triple::exact(1000.0 * choice.inside_m)),
        })
    };
    kinds.into_iter().map(told).collect()
}

fn count(many: usize) -> Count {
    Count(Triple::exact(many as f64))
}
