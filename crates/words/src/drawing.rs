//! What stands on drawings, in English: titles, axes, notes.
//!
//! A test of `dewpath-drawing` fails for a key of a drawing without a text, and for a text that no drawing uses.

/// Texts by key, with values as sentences have them.
pub(crate) const TEXTS: &[(&str, &str)] = &[
    // Common to all sheets.
    ("draw.block.job", "Job: {job}"),
    ("draw.block.date", "Date: {date}"),
    ("draw.block.no-date", "Date: not written"),
    ("draw.block.sheet", "Sheet {number} of {count}"),
    ("draw.scale", "Scale {scale} when printed without fitting to the page."),
    ("draw.heights", "Heights {factor} times larger than lengths: take them off with this bar."),
    ("draw.measured", "Check every dimension on site before cutting."),
    (
        "draw.likely-and-range",
        "Bars show the likely value, the line across each end what is between low and high (5th and 95th percentile).",
    ),
    // Pressure along the run.
    ("draw.pressure.title", "Pressure along the run"),
    (
        "draw.pressure.about",
        "Pressure that each part of the run {run} takes, in the direction of the air, each beginning where the one before ended. Sum {total}.",
    ),
    ("draw.pressure.axis", "Pressure taken so far"),
    ("draw.pressure.sum", "sum"),
    // Fan and run.
    ("draw.fan.title", "Fan and run"),
    (
        "draw.fan.about",
        "Curve of the fan {fan} and curve of what it blows through; they meet at {airflow} and {pressure}.",
    ),
    ("draw.fan.about-open", "Curve of the fan {fan} and curve of what it blows through."),
    ("draw.fan.airflow", "Air flow"),
    ("draw.fan.pressure", "Static pressure"),
    ("draw.fan.curve", "fan"),
    ("draw.fan.run", "run"),
    ("draw.fan.point", "meet: {airflow} at {pressure}"),
    ("draw.fan.required", "asked for: {airflow}"),
    ("draw.fan.stable", "other stable point"),
    ("draw.fan.unstable", "unstable point"),
    (
        "draw.fan.band",
        "Solid line: fan, with the area that its data leave open. Dashed line: run, with the area that its unknowns leave open. The box holds where they meet, low to high.",
    ),
    // Room.
    ("draw.room.title", "Humidity of the room"),
    ("draw.room.about", "Relative humidity of {room} through a shower, minute by minute."),
    ("draw.room.minutes", "Minutes from the start of the first shower"),
    ("draw.room.humidity", "Relative humidity, %"),
    ("draw.room.shower", "shower"),
    ("draw.room.mirror", "mirror clear"),
    ("draw.year.title", "Room through the year"),
    (
        "draw.year.about",
        "Mean relative humidity of {room} and of the dwelling, hours above 80 %, mould index, fan hours and electricity, month by month.",
    ),
    ("draw.year.month", "Month"),
    ("draw.year.room", "room"),
    ("draw.year.dwelling", "dwelling"),
    ("draw.year.hours", "Hours above 80 %"),
    ("draw.year.mould", "Mould index at the end of the month"),
    ("draw.year.fan", "Hours the fan runs"),
    ("draw.year.energy", "Electricity of fan and mirror, kWh"),
    (
        "draw.year.peak",
        "Mould index at its highest in the year: {index} of 6; the range is one class of material either way.",
    ),
    ("draw.year.lines", "Solid line: the room. Dashed line: the rest of the dwelling."),
    // Water.
    ("draw.water.title", "Water in the run"),
    (
        "draw.water.about",
        "Water that condenses in each piece of the run {run} in one shower on a winter day.",
    ),
    ("draw.water.axis", "Condensed in one shower"),
    (
        "draw.water.day",
        "Outdoors {outdoor} on the winter day it was worked out for. Left in the duct after a day: {net}.",
    ),
    ("draw.water.months", "Left in the duct"),
    // Section along the run.
    ("draw.section.title", "Section along the run"),
    ("draw.section.proposed", "Section along a proposed way"),
    (
        "draw.section.about",
        "The run {run} from its beginning to outdoors, drawn out straight: lengths, insulation, what surrounds it, where it falls.",
    ),
    ("draw.section.no-length", "length not known"),
    ("draw.section.break", "A break marks a length that is not known: it is not to scale."),
    (
        "draw.section.no-scale",
        "Not to scale: every piece is drawn as long as there is room for it.",
    ),
    (
        "draw.section.symbols",
        "To scale: lengths, heights and round ducts. Symbols without scale: fan, fittings, insulation, supports, wall and hood. A fitting is drawn where it is and takes no length.",
    ),
    (
        "draw.section.arrows",
        "Arrows below the duct: the way it falls. By how much is not written, so that it is drawn level.",
    ),
    (
        "draw.section.diameter-unknown",
        "Where only a centre line is drawn, the duct is not round or its size is not known.",
    ),
    ("draw.section.diameter", "{diameter} dia."),
    ("draw.section.rises", "rises {rise}"),
    ("draw.section.drops", "drops {rise}"),
    ("draw.section.seen", "Not the whole run was seen."),
    ("draw.section.low", "low point: water stands here"),
    ("draw.section.out", "falls to outdoors"),
    ("draw.section.back", "falls to the fan"),
    ("draw.section.level", "level"),
    ("draw.section.unknown", "fall not known"),
    ("draw.section.insulated", "insulated, {value}"),
    ("draw.section.bare", "no insulation"),
    ("draw.section.insulation-unknown", "insulation not known"),
    ("draw.section.support", "Short strokes above the duct: supports, {spacing} apart."),
    ("draw.section.support-at", "Short strokes above the duct: supports."),
    ("draw.section.trap", "trap"),
    ("draw.section.outdoors", "outdoors"),
    ("draw.section.bore", "hole in {member}"),
    ("draw.place.heated", "heated"),
    ("draw.place.attic", "attic"),
    ("draw.place.crawl space", "crawl space"),
    ("draw.place.joist bay", "joist bay"),
    ("draw.place.buried in insulation", "buried in insulation"),
    ("draw.place.outdoors", "outdoors"),
    ("draw.place.garage", "garage"),
    // Ceiling plan.
    ("draw.plan.title", "Ceiling plan"),
    (
        "draw.plan.about",
        "Ceiling of {room} seen from below as if through a mirror on the floor: members, housing, blocking, duct and the distances to measure.",
    ),
    ("draw.plan.mirror", "Seen as laid on the floor: left and right as you stand in the room."),
    ("draw.plan.block", "block {length}"),
    ("draw.plan.housing", "fan: {fan}"),
    (
        "draw.plan.level",
        "Stop and let it be seen: the housing level and fastened before the duct goes on (common practice, no source).",
    ),
    ("draw.plan.cable", "Power off and tested before any wiring; wiring by who may do it there."),
    (
        "draw.plan.obstacles",
        "Dashed outlines: keep clear. Solid timber: members; hatched timber: blocking to set. Crossed box: the fan.",
    ),
    ("draw.plan.numbers", "Numbers on members count from the first of {zones}."),
    ("draw.plan.beyond", "Beyond this sheet: {way}."),
    ("draw.plan.way", "duct to {way}, {length}"),
    // Terminal.
    ("draw.outside.title", "Outlet seen from outside"),
    ("draw.outside.about", "Wall at the outlet {outlet} with what is near it, and the distances."),
    ("draw.outside.asked", "{distance} (at least {least})"),
    ("draw.outside.short", "{distance} - TOO NEAR, at least {least}"),
    ("draw.outside.free", "{distance} (no book in force says how far)"),
    ("draw.outside.unknown", "{distance} (not settled, at least {least})"),
    ("draw.outside.elsewhere", "not on this wall, or nobody wrote where: told, not drawn"),
    (
        "draw.outside.anywhere",
        "Where the outlet lies in its window is not settled: distances are the least from anywhere in that window, and what is near has no place on this sheet.",
    ),
    ("draw.outside.ground", "ground"),
    ("draw.outside.ground-unknown", "ground: height not known"),
    ("draw.outside.height", "Lower edge of the outlet {height} above the ground."),
    (
        "draw.outside.height-unknown",
        "Height above the ground not known: the wall is broken off. Measure it.",
    ),
    ("draw.outside.snow", "usual snow"),
    ("draw.outside.snow-height", "Lower edge of the outlet {height} above the usual snow."),
    ("draw.outside.buried", "THE USUAL SNOW COVERS THE LOWER EDGE OF THE OUTLET."),
    ("draw.outside.snow-unknown", "Depth of the usual snow not known: ask where there is snow."),
    ("draw.outside.symbol", "The outlet is a symbol: its size is not known."),
    (
        "draw.outside.ladder",
        "Work above the ground: a ladder that stands firm, footed and tied; none near power lines.",
    ),
    // Bore.
    ("draw.bore.title", "Hole through a member"),
    ("draw.bore.about", "Member {member}: depth, hole and what is left above and below it."),
    ("draw.bore.hole", "hole {diameter} dia."),
    ("draw.bore.allowed", "Largest hole allowed there: {allowed}."),
    (
        "draw.bore.chart",
        "No general rule gives a size for this member: its maker's chart is needed. Do not cut before it is there.",
    ),
    ("draw.bore.edge", "At least {least} must be left to each edge."),
    ("draw.bore.none", "No hole in this member"),
    (
        "draw.bore.about-none",
        "Member {member}: the place where the duct would cross it is crossed out; nothing may be cut.",
    ),
    ("draw.bore.crossing", "no hole here"),
    (
        "draw.bore.wanted",
        "The duct would need a hole of {diameter} here. It needs another way, a smaller duct, or what the designer of the structure allows in writing.",
    ),
    (
        "draw.bore.too-large",
        "DO NOT CUT: the largest hole allowed there is {allowed}; {diameter} is needed.",
    ),
    (
        "draw.bore.too-near",
        "DO NOT CUT: {edge} would be left to the edge; at least {least} must be.",
    ),
    ("draw.bore.forbidden", "DO NOT CUT: {source}."),
    ("draw.bore.unsettled", "DO NOT CUT YET: whether a hole is allowed there is not settled."),
    ("draw.bore.source", "Rule: {source}. The authority having jurisdiction decides."),
    (
        "draw.bore.hidden",
        "Before cutting: power off, look for wires and pipes behind; eyes and lungs covered.",
    ),
    ("draw.bore.depth", "Depth of the member is not known: measure it."),
];

/// The text of a key.
pub(crate) fn text(key: &str) -> Option<&'static str> {
    TEXTS.iter().find(|(known, _)| *known == key).map(|(_, text)| *text)
}
