//! What to bring for a way outdoors.

use dewpath_job::model::ElbowMake;
use dewpath_layout::route::Route;
use dewpath_report::{Figure, Message, Triple};
use dewpath_units::{Category as _, Style};

use super::ducts::{Choice, first_duct};
use super::laying::Laid;
use super::task::{Task, length, run_of};

/// Duct, elbows, supports, fasteners of the joints, insulation and what the way ends in, each counted from the way itself.
pub(super) fn materials(
    task: &Task<'_>,
    route: &Route,
    choice: &Choice,
    built: &Laid,
    cap: &str,
) -> Vec<Message> {
    let jointing = &built.jointing;
    let straight: f64 = built.legs.iter().map(|leg| leg.straight_m).sum();
    let mut all = vec![
        Message::new("material.duct")
            .reference("duct", &route.duct)
            .figure("length", length(straight))
            .figure("count", count(jointing.piece_count as usize))
            .figure("sold", length(jointing.sold_m)),
    ];
    all.extend(elbows(route, choice));
    if !built.supports_m.is_empty() {
        all.push(Message::new("material.supports").figure("count", count(built.supports_m.len())));
    }
    let screwed = jointing.joints.iter().filter(|joint| joint.made == "made-screwed").count();
    let cemented = jointing.joints.len() - screwed;
    if screwed > 0 {
        let screws = count(screwed * jointing.screw_count as usize);
        let message = Message::new("material.screws").figure("count", screws);
        all.push(message.figure("joints", count(screwed)).name("seals", jointing.seals.join(", ")));
    }
    if cemented > 0 {
        all.push(Message::new("material.cement").figure("joints", count(cemented)));
    }
    let jacket = first_duct(run_of(task)).and_then(|duct| duct.insulation.as_ref());
    if let Some(stated) = jacket.filter(|_| task.jacket_m > 0.0) {
        let label = stated.value.print(&Style::US);
        all.push(
            Message::new("material.insulation")
                .name("label", label)
                .figure("length", length(route.length_m)),
        );
    }
    all.push(Message::new("material.cap").name("cap", cap));
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
        let make =
            if id.starts_with("stamped") { ElbowMake::Stamped } else { ElbowMake::Adjustable };
        Message::new("material.elbows")
            .figure("count", count(many))
            .figure("turn", Figure::AngleDeg(Triple::exact(turn_deg)))
            .name("make", make.word())
            .figure("size", Figure::DiameterMm(Triple::exact(1000.0 * choice.inside_m)))
    };
    kinds.into_iter().map(told).collect()
}

fn count(many: usize) -> Figure {
    Figure::Count(Triple::exact(many as f64))
}
