//! What stands beside the figures on the screens of the page, in English.
//!
//! A test fails for a key that the page asks for and that has no word, and for a word that the page never asks for.

/// Words by key.
pub(crate) const WORDS: &[(&str, &str)] = &[
    ("page.not-known", "not known"),
    ("page.why", "how it was worked out"),
    ("page.close", "Close"),
    // Required air.
    (
        "page.required.none",
        "No book or contract that is named asks for a rate here. Name the rule book in force.",
    ),
    ("page.required.whole", "Whole dwelling"),
    ("page.required.governs", "governs"),
    ("page.required.advice", "advice"),
    ("page.required.delivered", "air that leaves the room"),
    ("page.required.changes", "air changes"),
    ("page.required.volumes", "three volumes of the room pass in"),
    // Fan.
    ("page.fan.at-work", "On this run"),
    ("page.fan.flow", "air through the fan"),
    ("page.fan.pressure", "static pressure it makes"),
    ("page.fan.loudness", "loudness"),
    ("page.fan.power", "electric power"),
    // Controls.
    ("page.control.fitted", "What switches it, and how that is set"),
    ("page.control.set-point", "set-point"),
    ("page.control.would-do", "set-point that would do all year"),
    ("page.control.would-not", "none: the fan cannot bring the room down in the dampest month"),
    ("page.control.starts", "from the beginning of the shower until it starts"),
    ("page.control.stops", "from the end of the shower until it stops"),
    ("page.control.never", "not within the time followed"),
    ("page.control.runs", "fan runs on the design day"),
    ("page.control.runs-year", "fan runs in the year"),
    ("page.control.months", "Can the set-point be reached between showers?"),
    ("page.control.lowest", "lowest with the fan on"),
    ("page.control.reached", "reached"),
    ("page.control.yes", "yes"),
    ("page.control.no", "no"),
    (
        "page.control.no-humidity",
        "It does not follow the humidity, so that there is no set-point to reach.",
    ),
    (
        "page.control.no-weather",
        "Whether the set-point can be reached month by month is not known: the weather of the site is missing.",
    ),
    // Run.
    ("page.run.lost", "Pressure lost, piece by piece"),
    ("page.run.part", "part"),
    ("page.run.pressure", "lost"),
    ("page.run.speed", "air speed"),
    ("page.run.sum", "sum"),
    // Shower.
    ("page.shower.title", "Through the design shower"),
    ("page.shower.peak", "most humid"),
    ("page.shower.mirror", "mirror clear after"),
    ("page.shower.back", "room back after"),
    ("page.shower.left", "left on surfaces"),
    ("page.shower.out", "carried off by the fan"),
    ("page.shower.fan", "fan runs"),
    ("page.shower.energy", "electricity"),
    ("page.shower.heat", "heat and cold made up"),
    // Year.
    ("page.year.follow", "Follow the year"),
    ("page.year.again", "Follow it again"),
    ("page.year.stop", "Stop"),
    ("page.year.working", "Following the rooms, the dwelling and the ducts hour by hour"),
    ("page.year.stopped", "Stopped: nothing was kept of it."),
    ("page.year.old", "This is the year of the job before its last change."),
    (
        "page.year.unasked",
        "The year is worked out when you ask for it: 8760 hours of weather, every shower, the water in the ducts.",
    ),
    ("page.year.weather", "Where the weather comes from"),
    ("page.year.above", "above 80 % RH"),
    ("page.year.mould", "highest mould index, with one class of material either way"),
    ("page.year.surface", "worst surface"),
    ("page.year.running", "highest 30-day mean of humidity at a surface"),
    ("page.year.mirror", "showers after which the mirror was clear in half an hour"),
    ("page.year.fan", "fan runs"),
    ("page.year.energy", "electricity"),
    ("page.year.heat", "heat and cold made up"),
    ("page.year.cost", "both cost"),
    ("page.year.dwelling", "The rest of the dwelling"),
    ("page.year.damp", "above 60 % RH"),
    ("page.year.infiltration", "mean infiltration"),
    ("page.year.dried", "water taken out by air conditioner and dehumidifier"),
    // House.
    ("page.house.pressure", "Pressure with every exhaust on"),
    (
        "page.house.none",
        "Nothing can be said of the pressure of the house: write its leakage, its exhausts and its fuel-burning appliances.",
    ),
    ("page.house.no-appliance", "no fuel-burning appliance is written"),
    ("page.house.by-exhausts", "change by the exhausts"),
    ("page.house.limit", "limit"),
    ("page.house.no-limit", "no book says"),
    ("page.house.all", "indoors minus outdoors, everything on"),
    ("page.house.calm", "the same in calm air"),
    ("page.house.off", "the same with the exhausts off"),
    ("page.house.taken", "air that all exhausts take out"),
    ("page.house.worst", "worst case"),
    ("page.house.transfer", "Way in for the air"),
    ("page.house.saw", "saw off the leaf"),
    ("page.house.saw-unknown", "not known: measure the gap that is there"),
    ("page.house.saw-none", "nothing: the gap will do"),
    ("page.house.gap", "gap that would do"),
    ("page.house.grille", "or a transfer grille of"),
    ("page.house.allowed", "pressure that it may cost"),
    ("page.house.flow", "for a flow of"),
    ("page.house.ventilation", "Ventilation of the whole dwelling"),
    ("page.house.rate", "rate asked for, all day"),
    ("page.house.credit", "credit for infiltration"),
    ("page.house.provided", "given by what is written"),
    ("page.house.hours", "hours a day the job's fans would have to run"),
    ("page.house.continuous", "continuous flow that would give it"),
    (
        "page.house.no-ventilation",
        "No rate is known: write floor area and bedrooms, and name the rule book.",
    ),
    // Holes.
    (
        "page.holes.none",
        "No hole can be judged yet: write the members above the room, the way out and its layers.",
    ),
    // Terminal under a hand.
    ("page.outlet.grip", "drag it along its wall or roof, or move it with the arrow keys"),
    ("page.outlet.lies", "lies here"),
    ("page.outlet.would-lie", "would lie here"),
    ("page.outlet.along", "from the corner of its window, along x and y"),
    ("page.outlet.nowhere", "No spot of this window keeps every distance."),
    ("page.outlet.clear", "Every distance that a book asks for is kept."),
    ("page.outlet.beyond", "It lies beyond this sheet; its place along the edge is right."),
];

/// The word of a key.
pub(crate) fn text(key: &str) -> Option<&'static str> {
    WORDS.iter().find(|(known, _)| *known == key).map(|(_, text)| *text)
}
