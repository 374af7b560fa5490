//! Whether a search can be made of what was given.

use super::ways::{Duct, Exit, Ways};
use crate::error::{BadGeometry, Of};
use crate::framing::check_block;
use crate::geometry::TOUCH_M;

/// Most bays, members, spaces, obstacles or exits of one search.
const MOST: usize = 10_000;

pub(super) fn ways(ways: &Ways<'_>) -> Result<(), BadGeometry> {
    for value in ways.from {
        Of("the outlet").position("place", value)?;
    }
    let counts = [
        ("number of bays", ways.bays.len()),
        ("number of members", ways.members.len()),
        ("number of spaces", ways.spaces.len()),
        ("number of obstacles", ways.obstacles.len()),
        ("number of exits", ways.exits.len()),
    ];
    for (what, count) in counts {
        if count > MOST {
            return Err(Of("the floor").bad(
                what,
                count as f64,
                "in all",
                "no dwelling has so many",
                "give those near the way",
            ));
        }
    }
    for bay in ways.bays {
        check_block(Of(&bay.id), &bay.space)?;
    }
    for member in ways.members {
        member.check()?;
    }
    for space in ways.spaces {
        check_block(Of(&space.id), &space.clear)?;
    }
    for obstacle in ways.obstacles {
        check_block(Of(&obstacle.id), &obstacle.solid)?;
    }
    for (k, one) in ways.exits.iter().enumerate() {
        exit(one)?;
        if ways.exits[..k].iter().any(|other| other.id == one.id) {
            return Err(Of(&one.id).bad(
                "name of an exit",
                (k + 1) as f64,
                "in order",
                "another exit has the same one",
                "give each a name of its own",
            ));
        }
    }
    Ok(())
}

fn exit(exit: &Exit) -> Result<(), BadGeometry> {
    let of = Of(&exit.id);
    let out = exit.outward.axis.index();
    for i in 0..3 {
        let (least, most) = (exit.window.min[i], exit.window.max[i]);
        of.position("window", least)?;
        of.position("window", most)?;
        let size = most - least;
        if size < -TOUCH_M || (i == out && size > TOUCH_M) {
            return Err(of.bad(
                "window",
                size,
                "m",
                "it must be flat across the way out, its corners in order",
                "give where the centre of the terminal may lie on the inner face",
            ));
        }
    }
    of.length("depth", exit.depth_m, 0.0)?;
    amount(of, "loss of the terminal", exit.pressure_pa, "Pa")?;
    amount(of, "work on the terminal", exit.labour_h, "h")
}

pub(super) fn duct(duct: &Duct) -> Result<(), BadGeometry> {
    let of = Of(&duct.id);
    let bare = of.length("diameter", duct.bare_m, 0.01)?;
    let outside = of.length("diameter with insulation", duct.outside_m, 0.01)?;
    if outside < bare - TOUCH_M {
        return Err(of.bad(
            "diameter with insulation",
            outside,
            "m",
            "it is smaller than without",
            "give the outside diameter",
        ));
    }
    if let Some(height) = duct.height_m {
        let height = of.length("height", height, 0.01)?;
        if height > outside + TOUCH_M {
            return Err(of.bad(
                "height",
                height,
                "m",
                "an oval duct lies on its broad side",
                "exchange width and height",
            ));
        }
    }
    if of.length("hole", duct.hole_m, 0.01)? < outside - TOUCH_M {
        return Err(of.bad(
            "hole",
            duct.hole_m,
            "m",
            "the duct does not pass it",
            "give a hole no smaller than the duct with its insulation",
        ));
    }
    for (what, length) in [
        ("straight length after the collar", duct.first_straight_m),
        ("straight length between fittings", duct.min_straight_m),
        ("straight length before the exit", duct.last_straight_m),
    ] {
        of.length(what, length, 0.0)?;
    }
    amount(of, "loss of a metre", duct.straight_pa_per_m, "Pa/m")?;
    amount(of, "work on a metre", duct.straight_h_per_m, "h/m")?;
    amount(of, "work on a bore", duct.bore_h, "h")?;
    for bend in &duct.bends {
        let of = Of(&bend.id);
        if ![45.0, 90.0].iter().any(|turn| (bend.turn_deg - turn).abs() < 1e-6) {
            return Err(of.bad(
                "turn",
                bend.turn_deg,
                "degrees",
                "ways are searched with turns of 45 and 90 degrees",
                "leave this fitting out, or set it for the nearer of the two",
            ));
        }
        of.length("radius", bend.radius_m, 0.001)?;
        amount(of, "loss of a fitting", bend.pressure_pa, "Pa")?;
        amount(of, "work on a fitting", bend.labour_h, "h")?;
    }
    Ok(())
}

/// An amount of loss or work: not below nothing, and small enough to be counted.
fn amount(
    of: Of<'_>,
    what: &'static str,
    value: f64,
    unit: &'static str,
) -> Result<(), BadGeometry> {
    if (0.0..=1e6).contains(&value) {
        Ok(())
    } else {
        Err(of.bad(
            what,
            value,
            unit,
            "it must lie between nothing and a million",
            "check the number and its unit",
        ))
    }
}
