//! English.

/// The sentence of a key.
pub(crate) fn sentence(key: &str) -> Option<&'static str> {
    SENTENCES.iter().find(|(known, _)| *known == key).map(|(_, text)| *text)
}

/// A word of ours.
pub(crate) fn word(key: &str) -> Option<&'static str> {
    WORDS.iter().find(|(known, _)| *known == key).map(|(_, text)| *text)
}

/// Sentences by key. `{name}` is a value, `{name:likely}` a figure without its range.
pub(crate) const SENTENCES: &[(&str, &str)] = &[
    // Delivered air.
    (
        "airflow.delivered.holds",
        "{room} gets {flow}; {required} is required. The chance that it is enough is {chance}.",
    ),
    (
        "airflow.delivered.fails",
        "{room} gets only {flow}; {required} is required. The chance that it is enough is {chance}.",
    ),
    (
        "airflow.delivered.unknown",
        "{room} gets {flow}; {required} is required. Too much is unknown to say: the chance that it is enough is {chance}.",
    ),
    (
        "airflow.delivered.memory",
        "{room} gets {flow}; {required} is what the book is remembered to ask for, which is not sure enough for a verdict (chance that it is enough: {chance}).",
    ),
    (
        "airflow.delivered.nothing-required",
        "{room} gets {flow}. Nothing is known to be required, so there is nothing to compare it with.",
    ),
    (
        "airflow.delivered.no-fan-data",
        "Nothing is known of the fan of {room}, so no flow can be worked out.",
    ),
    ("airflow.delivered.no-exhaust", "{room} has no exhaust in this job."),
    (
        "airflow.required.no-book",
        "No rule book is named, so nothing is known to be required of {room}.",
    ),
    (
        "airflow.required.waiting",
        "{book} has a rate for {room}, but a fact of the room is missing.",
    ),
    (
        "airflow.required.not-in-book",
        "{book} has no rate for {room}; no other country's is taken instead.",
    ),
    (
        "airflow.measured.holds",
        "Measured {flow:likely}; {required} is required. With the spread of the method the chance that it is enough is {chance}.",
    ),
    (
        "airflow.measured.holds-narrowly",
        "Measured {flow:likely}; {required} is required. As read it is enough, but the spread of the method leaves a chance of {chance} only.",
    ),
    (
        "airflow.measured.fails",
        "Measured {flow:likely}; {required} is required. The chance that the true flow is enough is {chance}.",
    ),
    (
        "airflow.measured.fails-narrowly",
        "Measured {flow:likely}; {required} is required. As read it is short, though the spread of the method leaves a chance of {chance}.",
    ),
    (
        "airflow.measured.memory",
        "Measured {flow:likely}; {required} is what the book is remembered to ask for, which is not sure enough for a verdict.",
    ),
    (
        "airflow.model.agrees",
        "The reading of {flow} is in line with what the run should let through, {model}.",
    ),
    (
        "airflow.model.less",
        "The reading of {flow} is less than the run as described should let through, {model}: something is in the way that the job does not say.",
    ),
    (
        "airflow.model.more",
        "The reading of {flow} is more than the run as described should let through, {model}: the run is better than described, or the meter reads high.",
    ),
    (
        "airflow.rating.holds",
        "The fan is rated {rated} at {pressure}; {required} is required there.",
    ),
    (
        "airflow.rating.short",
        "The fan is rated {rated}, which does not reach the {required} that is required at {pressure}.",
    ),
    (
        "airflow.rating.unknown",
        "The fan's flow at {pressure} is not known; the rating there must reach {required}. The number on the box is usually given at less pressure.",
    ),
    // Duct.
    (
        "duct.length.table.holds",
        "{length} of {wall} duct with {elbows} elbows at {size} for a fan of {rated} is within the published length table (limit here: {limit}).",
    ),
    (
        "duct.length.table.short",
        "{length} of {wall} duct with {elbows} elbows at {size} for a fan of {rated} is beyond the published length table (limit here: {limit}). Two ways out exist: the fan maker's own duct criteria, or a measured flow.",
    ),
    (
        "duct.length.table.short-box",
        "{length} of {wall} duct with {elbows} elbows at {size} is beyond the published length table (limit here: {limit}), read with the {rated} of the box since the flow at the table's pressure is not known. Two ways out exist: the fan maker's own duct criteria, or a measured flow.",
    ),
    (
        "duct.length.table.unknown",
        "{length} of {wall} duct with {elbows} elbows at {size} for a fan of {rated}: too much is unknown to say whether the published length table is met (limit at the likely values: {limit}; chance: {chance}).",
    ),
    (
        "duct.length.table.closed",
        "{length} of {wall} duct with {elbows} elbows at {size} is beyond the published length table, but the measured flow is enough, which closes the point.",
    ),
    (
        "duct.length.table.no-rating",
        "The published length table needs the fan's flow at {pressure}, which is not known.",
    ),
    (
        "duct.length.equivalent.holds",
        "Equivalent length {length}, within the {limit} that the fan's maker allows.",
    ),
    (
        "duct.length.equivalent.unknown",
        "Equivalent length {length} against the {limit} that the fan's maker allows: too much is unknown to say.",
    ),
    (
        "duct.length.equivalent.fails",
        "Equivalent length {length}, beyond the {limit} that the fan's maker allows.",
    ),
    (
        "duct.length.longest",
        "The run is {length} long; this book's simple sizing goes up to {limit}.",
    ),
    (
        "duct.size.outlet.holds",
        "The smallest duct, {size}, is no smaller than the fan's outlet of {outlet}.",
    ),
    (
        "duct.size.outlet.small",
        "The duct of {size} is smaller than the fan's outlet of {outlet}: flow is lost and it gets louder.",
    ),
    (
        "duct.size.outlet.unknown",
        "Whether the duct ({size}) is as large as the fan's outlet of {outlet} is not known.",
    ),
    (
        "duct.flex.tight",
        "{length:likely} of flexible duct, pulled tight, of a size that has been tested.",
    ),
    (
        "duct.flex.untested",
        "{length:likely} of flexible duct, pulled tight. At {size} the published tests are extrapolated.",
    ),
    (
        "duct.flex.slack",
        "{length:likely} of flexible duct at {size} that is not known to be pulled tight: slack duct can cost several times the pressure of a taut one.",
    ),
    ("duct.gauge.holds", "Duct metal {wall} thick; at least {limit} is asked for."),
    ("duct.gauge.thin", "Duct metal {wall} thick; {limit} is asked for."),
    ("duct.material.holds", "The duct is smooth inside, or not known to be otherwise."),
    ("duct.material.flexible", "The run is flexible duct; smooth rigid duct is asked for."),
    (
        "duct.bend.tight",
        "Flexible duct is bent more tightly than a centre-line radius of {limit} diameter.",
    ),
    ("duct.support.holds", "Supports every {spacing}; at most {limit} is asked for."),
    (
        "duct.support.wide",
        "Supports every {spacing}; at most {limit} is asked for. The duct will sag and hold water.",
    ),
    ("duct.insulation.holds", "Insulation {has} in unheated space; {asked} is asked for."),
    (
        "duct.insulation.thin",
        "Insulation {has} in unheated space; {asked} is asked for. Moist air will drip inside a cold duct.",
    ),
    (
        "duct.insulation.none-asked",
        "Insulation {has} in unheated space; this book asks for none on a lone exhaust duct.",
    ),
    (
        "duct.insulation.bare",
        "The duct runs bare through unheated space. This book asks for no insulation on a lone exhaust duct, but moist air will drip inside a cold duct.",
    ),
    (
        "duct.insulation.unknown",
        "The duct runs through unheated space and its insulation is not known.",
    ),
    (
        "duct.velocity.quiet",
        "Air moves at {speed} in the smallest duct; up to {limit} is hardly heard.",
    ),
    ("duct.velocity.loud", "Air moves at {speed} in the smallest duct; above {limit} it is heard."),
    ("duct.joined.allowed", "The run is joined to {exhaust}, which this book allows."),
    (
        "duct.joined.never",
        "The run is joined to {exhaust}: a bath exhaust keeps a duct of its own.",
    ),
    (
        "duct.joined.fans",
        "Two fans blow into one duct: each pushes air back through the other while that one stands still, unless both have dampers that close.",
    ),
    (
        "duct.joined.fans-damped",
        "Two fans blow into one duct. Both have dampers; while both run, each gets less air.",
    ),
    ("duct.riser.allowed", "The run ends in a shared riser, which this book provides for."),
    (
        "duct.riser.not-allowed",
        "The run ends in a shared riser, which this book does not allow for this fan.",
    ),
    (
        "duct.riser.not-in-book",
        "The run ends in a shared riser; the book does not say whether a fan may blow into it.",
    ),
    // Terminal.
    ("terminal.place.holds", "The run ends outdoors."),
    ("terminal.place.indoors", "The run ends in: {kind}. The moisture stays in the building."),
    ("terminal.place.no-duct", "The fan has no duct: the moisture stays in the building."),
    (
        "terminal.place.unknown",
        "Where the run ends is not known. The outlet is the first thing to look at.",
    ),
    (
        "terminal.clearance.opening.unknown",
        "The distance to the nearest window, door or air inlet that opens is not written; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.opening.holds",
        "{distance} to the nearest opening; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.opening.waived",
        "{distance} to the nearest opening, but high enough above it that the {limit} is waived.",
    ),
    (
        "terminal.clearance.opening.near",
        "{distance} to the nearest opening; at least {limit} is asked for. The measure is too loose to say.",
    ),
    (
        "terminal.clearance.opening.near-fails",
        "{distance} to the nearest opening; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.intake.unknown",
        "The distance to the nearest mechanical air intake is not written; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.intake.holds",
        "{distance} to the nearest mechanical air intake; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.intake.waived",
        "{distance} to the nearest mechanical air intake, but high enough above it that the {limit} is waived.",
    ),
    (
        "terminal.clearance.intake.near",
        "{distance} to the nearest mechanical air intake; at least {limit} is asked for. The measure is too loose to say.",
    ),
    (
        "terminal.clearance.intake.near-fails",
        "{distance} to the nearest mechanical air intake; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.line.unknown",
        "The distance to the property line is not written; at least {limit} is asked for.",
    ),
    (
        "terminal.clearance.line.holds",
        "{distance} to the property line; at least {limit} is asked for.",
    ),
    ("terminal.clearance.line.waived", "{distance} to the property line; the {limit} is waived."),
    (
        "terminal.clearance.line.near",
        "{distance} to the property line; at least {limit} is asked for. The measure is too loose to say.",
    ),
    (
        "terminal.clearance.line.near-fails",
        "{distance} to the property line; at least {limit} is asked for.",
    ),
    ("terminal.walkway.holds", "The outlet does not blow onto a walkway, or the book allows it."),
    ("terminal.walkway.fails", "The outlet blows onto a walkway."),
    ("terminal.soffit.holds", "No vented soffit within {limit} of the outlet."),
    (
        "terminal.soffit.near",
        "Vented soffit within {limit} of the outlet draws the moist air into the attic.",
    ),
    (
        "terminal.soffit.unknown",
        "An outlet in a soffit: vented soffit within {limit} of it would draw the moist air into the attic.",
    ),
    ("terminal.damper.holds", "Something closes when the fan is off."),
    (
        "terminal.damper.none",
        "Nothing closes when the fan is off: cold air and moisture drift back.",
    ),
    ("terminal.damper.unknown", "Whether anything closes when the fan is off is not known."),
    ("terminal.screen.holds", "A coarse screen at the outlet."),
    (
        "terminal.screen.fine",
        "An insect screen at the outlet clogs with lint; openings of {least} to {most} are asked for.",
    ),
    ("terminal.screen.clogged", "The screen at the outlet is clogged."),
    ("terminal.flap.opens", "The flap outside was seen to open."),
    ("terminal.flap.stuck", "The flap outside does not open fully."),
    ("terminal.flap.unknown", "Whether the flap outside opens is not known."),
    // Fan.
    ("sound.limit.holds", "Rated {loudness}; at most {limit} is allowed."),
    ("sound.limit.loud", "Rated {loudness}; at most {limit} is allowed."),
    ("sound.limit.unknown", "The fan's loudness is not known; at most {limit} is allowed."),
    (
        "fan.listing.holds",
        "The fan is listed for use over a tub or shower; its instructions then ask for a GFCI-protected circuit.",
    ),
    ("fan.listing.not", "The fan sits over a tub or shower and is not listed for that."),
    (
        "fan.listing.unknown",
        "The fan sits, or may sit, over a tub or shower; whether it is listed for that is not known.",
    ),
    (
        "fan.stall",
        "The fan's curve meets the run in {count} more points, the lowest at {flow}: it may settle there and surge.",
    ),
    ("fan.data.none", "Nothing is known of fan {fan}: no curve, no rating, no number on a box."),
    ("control.required.holds", "The control is one of those asked for: {allowed}."),
    (
        "control.required.fails",
        "The control is none of those asked for: {allowed}. A switch alone does not count.",
    ),
    (
        "control.required.unknown",
        "What switches the fan is not written; one of these is asked for: {allowed}.",
    ),
    // Room.
    (
        "window.alternative.holds",
        "The window is large enough to stand in for the fan under this book ({glazed} glazed, {openable} of it openable). It clears no mirror in winter.",
    ),
    (
        "window.alternative.small",
        "The window is too small to stand in for the fan under this book ({glazed} glazed and {openable} openable are needed).",
    ),
    (
        "window.alternative.unknown",
        "The window might stand in for the fan under this book if it has {glazed} of glass and {openable} that opens.",
    ),
    ("replacement.air.holds", "Air in at the door costs {loss} with the door shut."),
    (
        "replacement.air.tight",
        "Air in at the shut door costs {loss}: the gap holds the fan back. A gap of {gap} would pass {flow:likely}.",
    ),
    (
        "replacement.air.unknown",
        "The gap under the door is not written. With the usual gaps air in at the shut door costs {loss}; a gap of {gap} would pass {flow:likely}.",
    ),
    // House.
    (
        "house.pressure.unknown",
        "Appliances that may draw their flue gas back ({appliances}): whether this exhaust, with all others on, pulls the house too far down is not worked out here.",
    ),
    (
        "house.pressure.larger-fan",
        "House pressure: unknown. A larger fan pulls harder on the house; check combustion appliances first.",
    ),
    (
        "dwelling.makeup_air.asked",
        "{exhaust} moves more than {limit} with an open-draft appliance in the house: make-up air is asked for.",
    ),
    (
        "dwelling.makeup_air.not-asked",
        "{exhaust} moves more than {limit}, but no open-draft appliance stands in the house: no make-up air is asked for.",
    ),
    (
        "dwelling.makeup_air.unknown",
        "{exhaust} moves more than {limit}: make-up air is asked for if an appliance that is neither sealed nor power-vented stands in the house.",
    ),
    ("dryer.length.holds", "The dryer's duct is {length} long; at most {limit} with its elbows."),
    ("dryer.length.long", "The dryer's duct is {length} long; at most {limit} with its elbows."),
    // Swap.
    ("swap.opening.fits", "The housing fits the opening."),
    (
        "swap.opening.patch",
        "The opening is more than an inch larger than the housing: a patch is needed.",
    ),
    ("swap.opening.enlarge", "The housing is larger than the opening: the ceiling must be cut."),
    ("swap.depth.fits", "The housing fits the {depth} above the ceiling."),
    ("swap.depth.too-deep", "The housing is deeper than the {depth} above the ceiling."),
    ("swap.collar.same", "The outlet fits the {collar} duct that stays."),
    (
        "swap.collar.smaller",
        "The duct that stays is {collar}, the outlet {outlet}: it needs a reducer, which costs flow.",
    ),
    (
        "swap.collar.larger",
        "The duct that stays is {collar}, the outlet {outlet}: it needs an increaser.",
    ),
    ("swap.access.from-below", "There is no access from above: the fan must mount from below."),
    ("swap.wire.heater", "A heater on the wire that is there: check circuit and conductor size."),
    // Evidence.
    ("evidence.method.paper", "A sheet of paper says that air moves, not how much."),
    ("evidence.symptom", "{id}: {kind} {when}"),
    ("flow.verification.done", "The flow was measured, as the book asks."),
    (
        "flow.verification.unless-table",
        "The book asks for a measured flow, unless the fan is rated at the table's pressure and the duct is within the length table.",
    ),
    ("flow.verification.asked", "The book asks for a measured flow."),
    ("override.unused", "An override names {finding}, but no such finding came up."),
    ("engine.unsolved", "The balance of fan and ducts has no answer: {why}."),
    (
        "engine.draws-unsolved",
        "In {count} of the draws the balance of fan and ducts has no answer: {why}.",
    ),
    // What is missing.
    (
        "missing.operation",
        "Write whether the exhaust runs on demand or all the time (`operation`).",
    ),
    ("missing.floor-area", "Write length and width of the room, or its floor area."),
    ("missing.volume", "Write the height of the room, or its volume."),
    ("missing.fixtures", "Write how many toilets, showers and tubs the room has."),
    ("missing.kitchen-exhaust", "Write whether the kitchen has a hood or another exhaust."),
    ("missing.cooker", "Write whether the cooker is electric or burns fuel."),
    ("missing.enclosed", "Write whether the kitchen is closed off."),
    // What to do.
    (
        "todo.outlet-first",
        "Look at the outlet first: a stuck flap or a clogged screen is the commonest cause and the cheapest to mend.",
    ),
    ("todo.largest-loss", "The largest loss on the way is {part}, {what}, {loss}: start there."),
    (
        "todo.larger-fan-last",
        "A larger fan comes last, and only after combustion appliances are looked at.",
    ),
    ("todo.look-next", "See what to look at next: one measurement may settle it."),
    (
        "todo.measure-flow",
        "Measure the flow at the grille with a hood or a box (door shut) and write it as a reading.",
    ),
    (
        "todo.name-book",
        "Name the rule book in force (`rule_book`); ask the authority having jurisdiction which one it is.",
    ),
    ("todo.ask-authority", "Ask the authority having jurisdiction what is required."),
    (
        "todo.confirm-in-book",
        "Look the value up in {book}, {section}, and write it as a local amendment once it is read.",
    ),
    ("todo.read-label", "Read the label of the fan: flow, pressure it was rated at, sone, watts."),
    ("todo.add-fan", "Write a fan for the room, or leave the room out."),
    ("todo.maker-criteria", "See whether the run meets the fan maker's own duct criteria."),
    ("todo.full-size-duct", "Run the duct at the size of the outlet all the way."),
    (
        "todo.pull-tight",
        "Pull flexible duct taut, cut off the rest, support it; or replace it by smooth duct.",
    ),
    ("todo.insulate", "Insulate the duct along its whole length in the cold, joints sealed first."),
    ("todo.look-insulation", "Look at the insulation where the duct runs through the cold."),
    ("todo.own-duct", "Give each exhaust a duct of its own."),
    ("todo.dampers-both", "Or give both fans dampers that close well."),
    (
        "todo.riser-owner",
        "Ask the owner of the riser what it was built for; fire separation is a matter for the authority and a licensed trade.",
    ),
    ("todo.lead-outdoors", "Lead the duct outdoors."),
    ("todo.see-outlet", "Go outside and look, with the fan on."),
    ("todo.measure-clearance", "Measure it from the outlet, or write that there is none near."),
    ("todo.move-terminal", "Move the outlet, or choose another way out."),
    (
        "todo.close-soffit-vents",
        "Close the soffit vents near the outlet, or choose another way out.",
    ),
    (
        "todo.clean-screen",
        "Clean the screen, or take one with larger openings; show the owner how.",
    ),
    ("todo.free-flap", "Free the flap or replace the cap."),
    ("todo.rating-at-pressure", "Find the flow at that pressure in the fan's data sheet."),
    (
        "todo.gfci",
        "Follow the fan's instructions for the place; wiring is a matter for a licensed electrician where the law asks for one.",
    ),
    ("todo.choose-control", "Choose one of the controls named."),
    ("todo.less-pressure", "Make the run easier: larger duct, fewer elbows."),
    ("todo.undercut", "Undercut the door to a gap of {gap}, or set a transfer grille."),
    ("todo.transfer-rule", "The book asks for {area} of free area at the door ({section})."),
    (
        "todo.worst-case-test",
        "Have the worst-case depressurisation and spillage test made before the fan is changed.",
    ),
    ("todo.make-up-air", "Plan make-up air with the authority and a licensed trade."),
    (
        "todo.look-hidden",
        "Look for what is hidden: a crushed or loose duct, an old flap, a reducer.",
    ),
    // What a value is.
    ("constant", "constant of the model"),
    ("what.operation", "whether the exhaust runs on demand or all the time"),
    ("what.altitude", "altitude of the site"),
    ("what.indoor", "air temperature in the room"),
    ("what.humidity", "relative humidity in the room"),
    ("what.leakage", "leakage of the dwelling at 50 Pa"),
    ("what.air-changes", "air changes of the dwelling at 50 Pa"),
    ("what.dwelling-area", "floor area of the dwelling"),
    ("what.dwelling-volume", "volume of the dwelling"),
    ("what.storey", "storey height"),
    ("what.door-width", "width of the door"),
    ("what.door-gap", "gap under the shut door"),
    ("what.door-joints", "open joints of the shut door"),
    ("what.transfer", "free area of the transfer grille"),
    ("what.gap-coefficient", "flow coefficient of the gap"),
    ("what.gap-pressure", "pressure that transfer air may cost"),
    ("what.room-length", "length of the room"),
    ("what.room-width", "width of the room"),
    ("what.room-height", "height of the room"),
    ("what.room-area", "floor area of the room"),
    ("what.room-volume", "volume of the room"),
    ("what.asked", "flow that was asked for"),
    ("what.required", "flow that is required"),
    ("what.delivered", "flow that leaves the room"),
    ("what.reading", "flow as read"),
    ("what.method-spread", "spread of the method, one standard deviation"),
    ("what.rated-flow", "rated flow of the fan"),
    ("what.rated-at", "pressure of the rating"),
    ("what.fan-kind", "kind of fan"),
    ("what.fan-curve", "curve of the fan from a data sheet"),
    ("what.fan-speed", "speed setting"),
    ("what.holds-flow", "flow that the motor holds"),
    ("what.fan-damper", "flap in the fan's outlet"),
    ("what.duct-kind", "kind of duct: look behind the grille"),
    ("what.duct-size", "size of the duct: look behind the grille"),
    ("what.compression", "how taut the flexible duct is pulled"),
    ("what.flex-band", "spread of the tests on flexible duct"),
    ("what.roughness", "roughness of the duct"),
    ("what.roughness-band", "roughness within the range of the material"),
    ("what.run-length", "length of the run"),
    ("what.piece-length", "length of the piece"),
    ("what.smooth-length", "length of smooth duct"),
    ("what.flex-length", "length of flexible duct"),
    ("what.elbow-count", "number of elbows"),
    ("what.elbow-make", "make of the elbows"),
    ("what.elbow-angle", "angle of the elbow"),
    ("what.elbow-radius", "radius of the elbow"),
    ("what.elbow-band", "spread between elbow tables"),
    ("what.elbow-deduction", "length taken off for elbows"),
    ("what.table-row", "row of the table"),
    ("what.table-column", "column of the table"),
    ("what.table-cell", "cell of the table"),
    ("what.first-straight", "straight duct behind the fan before the first elbow"),
    ("what.transition", "reducer: cone or step"),
    ("what.transition-angle", "angle of the cone"),
    ("what.damper-kind", "kind of damper in the run"),
    ("what.damper-angle", "angle of the balancing blade"),
    ("what.damper-band", "weight of the flap in the run"),
    ("what.crush", "area left at the crushed place"),
    ("what.point-flow", "flow of the measured point"),
    ("what.point-pressure", "pressure of the measured point"),
    ("what.grille-area", "free area of the grille"),
    ("what.grille-band", "spread between grilles"),
    ("what.terminal-kind", "what the run ends in: look outside"),
    ("what.terminal-band", "how hard the cap is to blow through"),
    ("what.flap", "flap at the outlet: look outside"),
    ("what.screen", "screen at the outlet: look outside"),
    ("what.clogged", "how much of the screen is clogged"),
    ("what.riser", "pressure in the shared riser with the others on"),
    ("what.junction", "how the ducts are joined"),
    // Losses, as inputs of a working.
    ("loss.shell", "leaks of the dwelling"),
    ("loss.door", "gap at the door"),
    ("loss.fan", "fan"),
    ("loss.piece", "duct"),
    ("loss.elbow", "elbows"),
    ("loss.transition", "change of size"),
    ("loss.damper", "damper"),
    ("loss.balancing", "balancing damper"),
    ("loss.crush", "crushed place"),
    ("loss.other", "as stated"),
    ("loss.system-effect", "elbow close behind the fan"),
    ("loss.grille", "grille"),
    ("loss.terminal", "outlet"),
    ("loss.meeting", "junction"),
    // Cautions.
    (
        "caution.authority",
        "This program reports what it checked. Local codes, the authority having jurisdiction and licensed trades decide.",
    ),
    (
        "caution.wiring",
        "Live wiring: switch off at the panel, lock it, test dead before the box is opened. Where the law asks for a licensed electrician, leave it to one.",
    ),
    (
        "caution.combustion",
        "Combustion air: an exhaust can pull flue gas back into the house. Where a fuel-burning appliance stands inside, have the spillage test made with every exhaust on, and keep a carbon monoxide alarm.",
    ),
    (
        "caution.structure",
        "Structure: cut no truss or I-joist, and no joist beyond its hole rules, without the maker's chart or an engineer.",
    ),
    ("caution.attic", "Attic: step on framing only, mind the heat, wear eye and dust protection."),
    (
        "caution.ladder",
        "Ladders and roofs: one out for four up, three feet above the landing; fall protection on roofs.",
    ),
    (
        "caution.silica",
        "Silica: drill or core masonry wet or with a shroud and vacuum; wear a respirator where dust is left.",
    ),
    (
        "caution.lead",
        "Lead: paint older than 1978 may hold lead; work by lead-safe practice. Larger areas need a certified firm.",
    ),
    (
        "caution.asbestos",
        "Asbestos: leave pebbly loose fill, old duct wrap and textured ceilings alone until they have been tested.",
    ),
    (
        "caution.fire-separation",
        "Fire separation: what passes between dwellings needs a tested closure; that is for the authority and a licensed trade.",
    ),
];

/// Words by key.
pub(crate) const WORDS: &[(&str, &str)] = &[
    ("holds", "HOLDS"),
    ("caution", "CAUTION"),
    ("unknown", "UNKNOWN"),
    ("fails", "FAILS"),
    ("new", "new"),
    ("gone", "no longer there"),
    ("sum.holds", "Every point that was checked holds."),
    ("sum.unknown", "Nothing that was checked fails, but something is not known."),
    ("sum.fails", "Something that was checked fails."),
    ("heading.findings", "Findings"),
    ("heading.holding", "Holding:"),
    ("heading.losses", "Pressure lost along"),
    ("heading.candidates", "Fans of the library on this run"),
    ("heading.scenarios", "Delivered under other conditions, at the likely values"),
    ("heading.look-next", "Look next"),
    ("heading.assumptions", "Assumed, since nobody wrote it (write it to override)"),
    ("heading.not-seen", "Not seen"),
    ("heading.cautions", "Cautions"),
    ("heading.changes", "Changed"),
    ("heading.effect", "What it does"),
    ("heading.evidence", "Seen or told (recorded, not judged here)"),
    ("overridden", "Overridden by the user, with the reason:"),
    ("over-its-spread", "taken over its whole spread"),
    ("total", "total"),
    ("chance-enough", "chance that it is enough"),
    ("to-take-it", "to take it:"),
    ("more-with-all", "more (--all shows them)"),
    ("would-settle", "would settle"),
    ("in", "in"),
    ("about", "takes about"),
    ("or", "or"),
    ("the-dwelling", "Whole dwelling"),
    (
        "no-arithmetic",
        "No arithmetic is behind this finding: it compares what is written with the rule.",
    ),
    ("no-changes", "Nothing that is written differs."),
    ("from-memory", "from memory"),
    ("written", "written in the job"),
    ("measured", "measured"),
    ("label", "label"),
    ("assumed", "assumed in the job"),
    ("rule book", "rule book"),
    ("default", "default"),
    ("computed", "worked out"),
    ("smooth", "smooth"),
    ("flexible", "flexible"),
    ("no-limit", "none"),
    ("not-allowed", "not allowed at any length"),
    ("method.fixed", "printed rate"),
    ("method.per-area", "by floor area"),
    ("method.per-fixture", "by fixtures"),
    ("method.air-changes", "by air changes"),
    ("method.asked", "as asked for"),
    ("method.dwelling-formula", "continuous rate by formula"),
    ("method.dwelling-table", "continuous rate by table"),
    ("method.dwelling-area", "continuous rate by floor area"),
    ("method.dwelling-bedrooms", "continuous rate by bedrooms"),
    ("method.dwelling-rooms", "continuous rate by rooms"),
    ("loss.shell", "leaks of the dwelling"),
    ("loss.door", "gap at the door"),
    ("loss.fan", "fan"),
    ("loss.piece", "duct"),
    ("loss.elbow", "elbow"),
    ("loss.transition", "change of size"),
    ("loss.damper", "damper"),
    ("loss.balancing", "balancing damper"),
    ("loss.crush", "crushed place"),
    ("loss.other", "as stated"),
    ("loss.system-effect", "elbow close behind the fan"),
    ("loss.grille", "grille"),
    ("loss.terminal", "outlet"),
    ("loss.meeting", "junction"),
];
