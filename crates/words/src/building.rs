//! Sentences on places, ways out, bores and holes, in English.

/// Sentences by key, as those of `english`.
pub(crate) const SENTENCES: &[(&str, &str)] = &[
    // Where the housing goes.
    (
        "place.housing.at-wish",
        "The housing of the fan fits where it is wished for ({wish}), in bay {bay}.",
    ),
    (
        "place.housing.near",
        "The nearest place where the housing fits is {offset} off the wish ({wish}), in bay {bay}: {dx} along x, {dy} along y.",
    ),
    ("place.housing.hangs", "The housing fits where it is written, in bay {bay}."),
    (
        "place.housing.moved",
        "The housing does not fit where it is written; the nearest place is {offset} away in bay {bay}: {dx} along x, {dy} along y.",
    ),
    (
        "place.housing.not-there",
        "The housing does not fit where it is written, and nowhere near it as it is turned.",
    ),
    ("place.housing.nowhere", "The housing fits nowhere in this ceiling as it is written."),
    ("place.housing.missing", "Where the housing fits cannot be said yet: `{at}` is not written."),
    ("place.housing.bad-geometry", "The geometry cannot be worked with: {told}."),
    (
        "place.edge.unknown",
        "What stands at the edge of bay {bay}, {gap} from the housing, is not written: whether the housing, blocks or bars can be fastened there is not known.",
    ),
    (
        "todo.look-at-edge",
        "Look what stands at that edge of {zone}: a joist, a plate, the rim, or nothing. Let the framing reach as far as its last member, or hang the housing from the members that are written.",
    ),
    ("what.edge", "what stands at the edge of the framing"),
    ("bound.bay-width", "The clear width between the members is too small[ by {by}]."),
    ("bound.bay-length", "The bay is too short[ by {by}]."),
    (
        "bound.bay-height",
        "There is not enough height between ceiling and what is above[: {by} short].",
    ),
    ("bound.no-framing", "No members are written there."),
    ("bound.member", "Member {id} is in the way[ by {by}]."),
    ("bound.outline", "The walls of the room bound it[: {by} short]."),
    ("bound.obstacle", "{id} is in the way[ by {by}]."),
    (
        "bound.wet-zone",
        "Wet zone {id}: the housing is not listed for it[; it reaches {by} into it].",
    ),
    ("bound.first-straight-at", "Collar and first straight piece meet {id}[: {by} short]."),
    ("bound.first-straight", "There is no room for collar and first straight piece[: {by} short]."),
    (
        "place.fasten.face",
        "Fasten it to the face of {member} that looks into the bay, {gap} from the housing.",
    ),
    (
        "place.fasten.gap",
        "{gap} are left to the face of {member}: more than its ears reach; blocks or bars carry it there.",
    ),
    (
        "place.fasten.blocks",
        "Set {count} of {size} across the bay, cut to {length}, square to the members, each end held by three nails or screws (common practice, no source).",
    ),
    (
        "place.fasten.bars",
        "Or hang it from {count} hanger bars that span {span} between the faces of the members, where the housing takes them.",
    ),
    (
        "place.fasten.bars-alone",
        "No block can be set there: hang it from {count} hanger bars that span {span} between the faces of the members, where the housing takes them.",
    ),
    // Ways outdoors.
    (
        "route.out.holds",
        "Ways outdoors: {ways}. First {way} with {duct}: {length}, elbows {elbows}, about {hours} of work, {loss} at the required flow. It gives enough air.",
    ),
    (
        "route.out.short",
        "Ways outdoors: {ways}, none with enough air from this fan. Best {way} with {duct}: {length}, elbows {elbows}, about {hours} of work, {loss} at the required flow.",
    ),
    (
        "route.out.unsure",
        "Ways outdoors: {ways}. First {way} with {duct}: {length}, elbows {elbows}, about {hours} of work, {loss} at the required flow. Whether it gives enough air is not sure.",
    ),
    (
        "route.out.none",
        "No way leads outdoors without breaking a member or a limit that is written.",
    ),
    (
        "route.out.not-searched-through",
        "No way outdoors was found, but the floor is too large to be searched through, so there may be one.",
    ),
    (
        "route.note.not-searched-through",
        "The floor is too large to be searched through: there may be a better way.",
    ),
    (
        "todo.less-floor",
        "Write only the spaces, obstacles and ways out near the run, then search again.",
    ),
    ("route.out.no-duct", "No round duct of a known size is written or in the library."),
    (
        "route.out.no-requirement",
        "Ways outdoors are compared at the required flow, and nothing is known to be required.",
    ),
    ("route.out.missing", "Ways outdoors cannot be searched yet: `{at}` is not written."),
    ("route.out.none-admitted", "None of the ways out that are written may be used for a duct."),
    ("route.out.bad-geometry", "The geometry cannot be worked with: {told}."),
    ("route.note.other-is-better", "Another way loses less and takes less work."),
    (
        "route.note.low-point",
        "It has a low point in {within}, {along} along, where water would stand: give it a drain, or lead the duct another way.",
    ),
    (
        "route.note.drains-back",
        "It rises {along} along, in {within}: what condenses in the rise runs back to the housing.",
    ),
    (
        "route.note.no-room-to-fall",
        "Leg {leg} has no room to fall by {fall}, or a hole on it would come too near to an edge.",
    ),
    (
        "route.slope.holds",
        "The way by {way} falls {fall} to the outdoors: the centre of the duct is {from} above the ceiling where it begins to fall and {to} at the inner face.",
    ),
    (
        "route.slope.back",
        "The way by {way} rises {low} along: what condenses before the top runs back to the housing. Behind it the duct falls {fall} to the outdoors, to {to} above the ceiling at the inner face.",
    ),
    (
        "route.slope.stands",
        "The way by {way} has a low point {low} along, where water stands. Behind it the duct falls {fall} to the outdoors, to {to} above the ceiling at the inner face.",
    ),
    (
        "route.slope.no-room",
        "The way by {way} has no room for all of its fall of {fall}: from {from} above the ceiling where it begins to {to} at the inner face.",
    ),
    (
        "route.joints.metal",
        "Joints by {way}: {joints}, straight pieces to cut {pieces}, sold in {sold}. Each joint is lapped with the air, held by {screws} screws or rivets evenly round and sealed ({seals}); no screw reaches the damper.",
    ),
    (
        "route.joints.plastic",
        "Joints by {way}: {joints}, of them {cemented} cemented; straight pieces to cut {pieces}, sold in {sold}. Collar and terminal are held by {screws} screws evenly round and sealed ({seals}); no screw reaches the damper.",
    ),
    (
        "todo.drain-or-insulate",
        "Insulate what lies in the cold, and give water that cannot run outdoors a drain, or take a way that falls all along.",
    ),
    (
        "todo.room-to-fall",
        "Choose a housing with its collar higher, a smaller duct, or a way that rises first; what lies level keeps its water.",
    ),
    ("what.slope", "fall on a length"),
    ("what.leg-start", "begin of the leg above the ceiling"),
    ("what.leg-length", "length of the leg"),
    ("what.leg-drop", "drop of the leg"),
    ("what.straight-duct", "straight duct in all"),
    ("what.sold-length", "length in which it is sold"),
    ("route.note.outside", "The duct with its insulation is {outside} across."),
    (
        "route.note.pressed",
        "The insulation is pressed in tight places, down to {left} of its thickness: it holds back less heat there.",
    ),
    (
        "route.separation.townhouse",
        "{way} is a wall between townhouses: no duct, vent or other mechanical part may be in it.",
    ),
    (
        "route.separation.garage",
        "{way} keeps the dwelling from the garage: a duct through it is steel of 26 gauge at least and has no opening into the garage; a terminal there does not lead outdoors.",
    ),
    (
        "route.separation.dwelling",
        "{way} keeps two dwellings apart: the penetration needs a tested firestop system.",
    ),
    (
        "route.separation.rated",
        "{way} is rated against fire: the penetration needs a tested firestop system.",
    ),
    (
        "route.opens.smaller",
        "A smaller duct ({id}) would get out by {way}, at {loss}: a stronger fan goes with it.",
    ),
    (
        "route.opens.oval",
        "An oval duct ({id}) would get out by {way}, at {loss} by the round duct it replaces.",
    ),
    ("route.opens.space", "A {id} would open a way to {way}, at {loss}."),
    ("route.opens.exit", "Way out {id} would do ({way}), at {loss}."),
    ("route.opens.obstacle", "Moving {id} would open a way to {way}, at {loss}."),
    (
        "todo.firestop-system",
        "Write the number of the firestop system, and have the authority look at it.",
    ),
    ("todo.bore-refused", "A bore on the way is refused: {why}."),
    ("todo.other-way-out", "Write another way out: another wall, a soffit, the roof."),
    ("todo.not-searched", "What could be given up was not searched: {told}."),
    ("todo.duct-reaches", "The duct gets no further than {reached}."),
    ("what.wall-thickness", "thickness of wall or roof"),
    ("what.route-length", "length of the way"),
    ("what.route-elbows", "elbows on the way"),
    // What may be cut.
    (
        "frame.bore.allowed",
        "{kind} of {zone}: a hole of {hole} may be bored in the middle of the depth; {allowed} is the most the book allows.",
    ),
    (
        "frame.bore.smaller",
        "{kind} of {zone}: a hole of {hole} is more than the book allows ({allowed}).",
    ),
    (
        "frame.bore.none",
        "{kind} of {zone}: no hole may be bored at all; the edges leave no room for one.",
    ),
    (
        "frame.bore.memory",
        "{kind} of {zone}: a hole of {hole} against {allowed}, which is only remembered of the book and gives no verdict.",
    ),
    (
        "frame.bore.chart",
        "{kind} of {zone}: the maker's chart is needed for a hole of {hole}; there is no number without it.",
    ),
    (
        "frame.bore.designer",
        "{kind} of {zone}: nothing may be cut, notched or bored without a design professional.",
    ),
    (
        "frame.bore.no-rule",
        "{kind} of {zone}: no rule book in use says whether a hole of {hole} may be bored.",
    ),
    (
        "todo.run-with-members",
        "Run the duct with the members, above them, or below them in a soffit.",
    ),
    (
        "frame.clearance.holds",
        "{near} ({kind}) is {distance} from the terminal at {way}; {least} is asked for.",
    ),
    (
        "frame.clearance.short",
        "{near} ({kind}) is only {distance} from the terminal at {way}; {least} is asked for.",
    ),
    (
        "frame.clearance.no-limit",
        "{near} ({kind}) is {distance} from the terminal at {way}[; {least} is remembered of the book]: no book in use gives a sure least distance.",
    ),
    (
        "penetration.sheet",
        "Hole at {way}: {hole} for what is {duct} across, falling {fall} outdoors across the wall.",
    ),
    (
        "penetration.sheet.thin",
        "Hole at {way}: {hole} for what is {duct} across, tilted outdoors; across so thin a wall that is less than 1/16 in (1.6 mm).",
    ),
    ("penetration.sheet.roof", "Hole in the roof at {way}: {hole} for what is {duct} across."),
    (
        "penetration.layers-unknown",
        "The layers at {way} are not written, so the order of the cuts cannot be said.",
    ),
    ("penetration.bad", "The hole cannot be worked out: {told}."),
    (
        "hole.stop-for-fire",
        "Stop: cut nothing before it is settled in writing what this wall separates by fire rules, and with which firestop system.",
    ),
    ("hole.look-at-layer", "Look at the layer that is not known before cutting it."),
    (
        "hole.find-services",
        "Look for cables, pipes and framing on both sides; electrics are a matter for a licensed trade.",
    ),
    (
        "hole.ask-rim",
        "Rim: ask whether it may be bored there; an engineered one by its maker's chart.",
    ),
    ("hole.mark-centre", "Mark the centre inside, clear of framing."),
    ("hole.pilot", "Drill the pilot[ of {diameter}] from inside right through, falling outwards."),
    ("hole.check-pilot", "See outside where the pilot came out before anything large is cut."),
    (
        "hole.dust",
        "Water or a shroud with a vacuum, and a mask: dust of masonry holds silica that harms the lungs.",
    ),
    ("hole.cut-outside", "Cut[ {diameter}] from outside."),
    ("hole.core", "Core the masonry[ at {diameter}] from outside[, in {passes} short passes]."),
    ("hole.cut-inside", "Cut[ {diameter}] from inside."),
    ("hole.membrane", "Open the membrane in a star and keep its flaps for sealing."),
    ("hole.part-insulation", "Draw the soft insulation aside."),
    ("hole.cavity", "Keep crumbs out of the cavity and carry the sleeve across it."),
    ("hole.lift-cover", "Take up the roof cover above the hole."),
    ("hole.sleeve", "Set the sleeve, falling outwards."),
    ("hole.flash", "Lap flashing and drainage layer so that water runs out over what lies below."),
    ("hole.fasten", "Fasten the terminal; the flap swings free."),
    ("hole.seal-gap", "Foam or seal the gap all round."),
    ("hole.seal-inside", "Seal the inner air barrier to the duct."),
    ("hole.photograph", "Photograph it before it is covered."),
    ("hole.guard-roof", "Guard against a fall before going on the roof."),
    ("cover.foam-cut", "Cover it once the foam is hard enough to cut."),
    ("cover.fire-papers", "Cover it once the fire rules are settled in writing."),
    ("cover.seen", "Cover it once the inspector has seen it, where the work needs a permit."),
    ("cover.photographed", "Cover it once photographs are taken."),
    ("cover.flow-seen", "Cover it once air was seen to leave outside and the flap to close."),
    (
        "todo.level-hold-point",
        "Hold point: level the housing in both directions and have it looked at before the ceiling is closed (common practice, no source).",
    ),
    ("todo.take-place", "Take one of the places offered, or change what binds it."),
    ("todo.write", "Write `{at}`, or that it is unknown."),
    ("what.floor-level", "level of the finished floor"),
    ("what.ceiling-board", "thickness of the ceiling board"),
    ("what.wall-board", "thickness of the wall board"),
    ("what.framing-bottom", "underside of the members"),
    ("what.outlet-offset", "collar off the middle of its side"),
    ("what.outlet-height", "collar above the ceiling"),
    ("what.outlet-side", "side of the collar"),
    ("what.collar", "length of the collar"),
    ("what.flange", "reach of the flange"),
    ("what.wish", "where the housing should be"),
    ("what.offset-x", "off the wish along x"),
    ("what.offset-y", "off the wish along y"),
];

/// Words by key.
pub(crate) const WORDS: &[(&str, &str)] = &[
    ("wish.centre", "centre of the room"),
    ("wish.point", "the point written"),
    ("wish.over-shower", "over the shower"),
    ("wish.between", "between fixture and door"),
    ("bore-allowed", "allowed"),
    ("bore-forbidden", "larger, or nearer to an edge, than the book allows in that member"),
    ("bore-not-round", "no rule book in use says how a hole counts that is not round"),
    ("bore-no-rule", "no rule book says what may be bored"),
    ("bore-makers-chart", "the maker's chart for the member is needed"),
    ("bore-designer", "a truss is altered by a design professional alone"),
    ("runs-out", "to the outdoors"),
    ("runs-back", "back towards the housing"),
    ("runs-level", "nowhere"),
    ("joint-collar", "collar of the housing"),
    ("joint-piece", "piece to piece"),
    ("joint-elbow", "elbow"),
    ("joint-terminal", "terminal"),
    ("made-screwed", "screwed and sealed"),
    ("made-cemented", "cemented"),
    ("near-window", "window"),
    ("near-door", "door"),
    ("near-intake", "air intake"),
    ("near-inlet", "gravity inlet"),
    ("near-soffit-vent", "vented soffit"),
    ("near-property-line", "property line"),
    ("near-meter", "gas meter"),
    ("near-walkway", "walkway"),
    ("near-grade", "grade"),
    ("near-snow-line", "snow line"),
    ("member-sawn", "sawn joist"),
    ("member-doubled", "doubled joist"),
    ("member-i-joist", "I-joist"),
    ("member-truss", "truss"),
    ("member-engineered", "engineered member"),
    ("member-steel", "steel joist"),
];
