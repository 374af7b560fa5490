//! Where rooms, members, obstacles and ways out are: good values are read as they are meant, bad ones are
//! told with a way out.
#![expect(clippy::panic, reason = "helpers of tests stand outside of test functions")]

use std::sync::LazyLock;

use dewpath_job::model::{
    Above, Along, FixtureKind, FramingKind, Job, LayerMaterial, LumberSize, MeasuredTo, NearKind,
    OutletSide, Outward, Separation, SpaceKind, WayOutKind, Wish, outline_known, place_known,
};
use dewpath_job::patch::{Patch, Set, apply};
use dewpath_job::{diff, read};
use dewpath_message::Speak as _;
use dewpath_units::{Choice, Length, Origin, Stated, Uncertain, YesNo};
use dewpath_words::Speaker;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

const ROOM: &str =
    "[room]\nkind = \"bathroom\"\nlength = \"9 ft\"\nwidth = \"5 ft\"\nheight = \"8 ft\"\n";

fn text(more: &str) -> String {
    format!("format = 1\nshow = \"us\"\n{more}")
}

fn job(more: &str) -> Job {
    read("house.toml", &text(more)).unwrap_or_else(|told| panic!("{told}")).job
}

/// A job that is read without a complaint.
fn clean(more: &str) -> Job {
    let read = read("house.toml", &text(more)).unwrap_or_else(|told| panic!("{told}"));
    let complaints: Vec<String> =
        read.warnings.list.iter().map(|told| ENGLISH.say(&told.message)).collect();
    assert!(complaints.is_empty(), "{complaints:#?}");
    read.job
}

fn told(more: &str) -> String {
    match read("house.toml", &text(more)) {
        Ok(read) => read.warnings.render(&*ENGLISH, 100, false),
        Err(told) => format!("refused\n{}", told.render(&*ENGLISH, 100, false)),
    }
}

#[track_caller]
fn refused(more: &str, part: &str) {
    let told = told(more);
    assert!(told.starts_with("refused"), "`{more}` is read:\n{told}");
    assert!(told.contains(part), "`{part}` is missing for `{more}`:\n{told}");
    assert!(told.contains("help:"), "no way out for `{more}`:\n{told}");
}

#[track_caller]
fn doubted(more: &str, part: &str) {
    let told = told(more);
    assert!(!told.starts_with("refused"), "`{more}`:\n{told}");
    assert!(told.contains(part), "`{part}` is missing for `{more}`:\n{told}");
}

fn is<C: Copy + PartialEq + std::fmt::Debug>(given: &Option<Stated<Choice<C>>>, wanted: C) {
    assert_eq!(given.as_ref().map(|stated| &stated.value), Some(&Choice::Known(wanted)));
}

#[track_caller]
fn at<const N: usize>(given: &Option<Stated<Choice<[Length; N]>>>, inches: [f64; N]) {
    let place = place_known(given).expect("a known place");
    for (found, wanted) in place.iter().zip(inches) {
        assert!((found.inches() - wanted).abs() < 1e-9, "{found:?} is not {wanted} in");
    }
}

fn inches(given: &Option<Stated<Uncertain<Length>>>) -> f64 {
    match given.as_ref().map(|stated| stated.value) {
        Some(Uncertain::Exact(length)) => length.inches(),
        other => panic!("not one exact length: {other:?}"),
    }
}

#[test]
fn a_room_by_its_corner_or_by_its_outline() {
    let room = &clean(&format!(
        "{ROOM}at = [\"-4 ft\", 0]\nlength_along = \"y\"\nfloor_level = \"-7 ft 10 in\"\nmeasured = \"studs\"\ndrywall = \"1/2 in\"\nceiling_drywall = \"5/8 in\"\n"
    ))
    .rooms[0]
    .plan
    .clone();
    at(&room.at, [-48.0, 0.0]);
    is(&room.length_along, Along::Y);
    is(&room.measured, MeasuredTo::Framing);
    assert!((inches(&room.floor_level) + 94.0).abs() < 1e-9);
    assert!((inches(&room.ceiling_drywall) - 0.625).abs() < 1e-9);

    // An L of three walls that may be written in any way of writing a length, one corner with its origin.
    let room = &clean(&format!(
        "{ROOM}plan = {{ value = [[0, 0], [\"9 ft\", \"0\"], [\"9 ft\", \"3 ft\"], [\"60 in\", \"3 ft\"], [\"1.524 m\", \"5 ft\"], [0, \"5 ft\"]], origin = \"measured\" }}\n"
    ))
    .rooms[0]
    .plan
    .clone();
    let corners = outline_known(&room.outline).expect("a known outline");
    assert_eq!(corners.len(), 6);
    assert!((corners[4][0].feet() - 5.0).abs() < 1e-9);
    assert_eq!(room.outline.as_ref().map(|stated| stated.origin), Some(Origin::Measured));

    // Unknown stays unknown, and is not the same as left out.
    let room = &clean(&format!("{ROOM}at = \"unknown\"\nplan = \"unknown\"\n")).rooms[0];
    assert_eq!(room.plan.at.as_ref().map(|stated| &stated.value), Some(&Choice::Unknown));
    assert!(room.plan.outline.as_ref().is_some_and(|stated| stated.value.is_unknown()));
    assert_eq!(outline_known(&room.plan.outline), None);
    assert!(job(ROOM).rooms[0].plan == dewpath_job::model::RoomPlan::default());
}

#[test]
fn outlines_that_are_no_room() {
    let plan = |corners: &str| format!("{ROOM}plan = {corners}\n");
    let rectangle = "[[0, 0], [\"9 ft\", 0], [\"9 ft\", \"5 ft\"], [0, \"5 ft\"]]";
    clean(&plan(rectangle));
    // The first corner may be repeated at the end; the room may be walked round either way.
    clean(&plan("[[0, 0], [\"9 ft\", 0], [\"9 ft\", \"5 ft\"], [0, \"5 ft\"], [0, 0]]"));
    clean(&plan("[[0, 0], [0, \"5 ft\"], [\"9 ft\", \"5 ft\"], [\"9 ft\", 0]]"));
    clean(&plan("[[0, 0], [\"9 ft\", 0], [\"4 ft\", \"5 ft\"]]"));
    refused(&plan("[[0, 0], [\"9 ft\", 0]]"), "has 2 corners");
    refused(&plan("[]"), "has 0 corners");
    refused(
        &plan("[[0, 0], [\"9 ft\", \"5 ft\"], [\"9 ft\", 0], [0, \"5 ft\"]]"),
        "walls 1 and 3 of room",
    );
    refused(&plan("[[0, 0], [\"9 ft\", 0], [\"9 ft\", 0], [0, \"5 ft\"]]"), "corners 2 and 3");
    refused(&plan("[[0, 0], [\"9 ft\", 0], [\"4 ft\", 0], [0, \"5 ft\"]]"), "cross or touch");
    refused(&plan("[[0, 0], [\"9 ft\", 0], [\"4 ft\", 0]]"), "cross or touch");
    refused(&plan("[[0, 0], [\"9 ft\", 0], [\"9 ft\"]]"), "2 lengths belong here, not 1");
    refused(&plan("[[0, 0], [\"9 ft\", 3], [0, \"5 ft\"]]"), "needs a unit");
    refused(&plan("[[0, 0], [\"9 ft\", \"3 cfm\"], [0, \"5 ft\"]]"), "is an airflow");
    refused(&plan("[[0, 0], [\"9 ft\", \"900 ft\"], [0, \"5 ft\"]]"), "farther away");
    refused(&plan("7"), "a list of corners");
    let many: Vec<String> = (0..201).map(|k| format!("[\"{k} in\", 0]")).collect();
    refused(&plan(&format!("[{}]", many.join(", "))), "201 corners");
    doubted(&format!("{}at = [0, 0]\n", plan(rectangle)), "beside its plan");
    doubted("[room]\nkind = \"bathroom\"\nat = [0, 0]\n", "no length and width");
    doubted(&format!("{ROOM}length_along = \"x\"\n"), "but not where");
    doubted(&format!("{ROOM}drywall = \"2 in\"\n"), "unusually large");
    refused(&format!("{ROOM}drywall = \"2 ft\"\n"), "cannot be this large");
}

#[test]
fn walls_wet_zones_and_wishes() {
    let room = &clean(&format!(
        "{ROOM}at = [0, 0]\nwish = \"Over the shower\"\n[[room.wall]]\nid = \"north\"\ncorner = 3\noutside = true\nseparation = \"garage\"\nlayers = [{{ material = \"drywall\", thickness = \"1/2 in\" }}, {{ material = \"studs or block\", thickness = \"unknown\" }}]\n[room.wet]\nid = \"shower\"\nat = [0, 0]\nsize = \"3 ft x 30 in\"\n[[room.fixture_at]]\nkind = \"door\"\nat = [\"8 ft\", \"0 ft\"]\n"
    ))
    .rooms[0]
    .plan
    .clone();
    let wall = &room.walls[0];
    assert_eq!(wall.corner.as_ref().map(|stated| stated.value), Some(Uncertain::Exact(3)));
    assert_eq!(wall.outside.as_ref().map(|stated| stated.value), Some(YesNo::Yes));
    is(&wall.separation, Separation::Garage);
    is(&wall.layers[0].material, LayerMaterial::Drywall);
    let doubtful = Choice::OneOf(vec![LayerMaterial::Studs, LayerMaterial::Block]);
    assert_eq!(wall.layers[1].material.as_ref().map(|stated| &stated.value), Some(&doubtful));
    at(&room.wet[0].size, [36.0, 30.0]);
    is(&room.fixtures[0].kind, FixtureKind::Door);
    assert_eq!(room.fixtures[0].id, "fixture_at-1");
    assert_eq!(room.wish.clone().map(|stated| stated.value), Some(Wish::OverShower));

    let wish = |wish: &str| job(&format!("{ROOM}wish = {wish}\n")).rooms[0].plan.wish.clone();
    assert_eq!(wish("\"center\"").map(|stated| stated.value), Some(Wish::Centre));
    let point = Wish::At([Length::from_feet(4.0), Length::from_inches(30.0)]);
    for written in [
        "[\"4 ft\", \"30 in\"]",
        "\"4 ft x 30 in\"",
        "{ value = [\"4 ft\", \"30 in\"], note = \"over the mat\" }",
    ] {
        assert_eq!(wish(written).map(|stated| stated.value), Some(point), "{written}");
    }

    refused(&format!("{ROOM}wish = \"over the showr\"\n"), "did you mean `over the shower`?");
    refused(&format!("{ROOM}wish = [\"4 ft\"]\n"), "2 lengths belong here");
    doubted(&format!("{ROOM}wish = \"over the shower\"\n"), "nobody says where the shower");
    doubted(&format!("{ROOM}wish = \"between fixture and door\"\n"), "fixture and door");
    doubted(&format!("{ROOM}at = [0, 0]\nwish = [\"40 ft\", \"2 ft\"]\n"), "lies outside of room");
    let wall = |corner: &str| {
        format!("{ROOM}at = [0, 0]\n[[room.wall]]\nid = \"north\"\ncorner = {corner}\n")
    };
    refused(&wall("0"), "begins at corner 0");
    refused(&wall("5"), "counted from 1 to 4");
    doubted(
        &format!("{}[[room.wall]]\nid = \"south\"\ncorner = 3\n", wall("3")),
        "two walls of room",
    );
    let wet =
        |at: &str, size: &str| format!("{ROOM}at = [0, 0]\n[room.wet]\nat = {at}\nsize = {size}\n");
    refused(&wet("[0, 0]", "[\"3 ft\", \"0 in\"]"), "no extent");
    refused(&wet("[0, 0]", "[\"3 ft\", \"-2 ft\"]"), "is an extent");
    doubted(&wet("[\"30 ft\", 0]", "[\"3 ft\", \"3 ft\"]"), "lies outside of room");
}

#[test]
fn framing_in_zones() {
    let job = clean(&format!(
        "{ROOM}[[framing]]\nid = \"front\"\nkind = \"sawn joist\"\nsize = \"2x10\"\nspacing = \"16 in\"\ndirection = \"y\"\nfirst = \"15-1/4 in\"\nat = [\"-2 ft\", 0]\nextent = [\"12 ft\", \"14 ft\"]\nbottom = \"8 ft\"\nbearings = [0, \"14 ft\"]\nabove = \"another dwelling\"\nseparation = \"dwelling\"\ndouble = [{{ member = 3, side = \"after\" }}]\n[[framing]]\nid = \"back\"\nkind = \"i-joist or engineered\"\nactual = \"2-5/16 in x 11-7/8 in\"\nspacing = \"19.2 in\"\nspan = \"about 13 ft\"\nextent = \"unknown\"\n"
    ));
    let [front, back] = job.framing.as_slice() else { panic!("two zones") };
    is(&front.kind, FramingKind::Sawn);
    is(&front.size, LumberSize::TwoByTen);
    is(&front.direction, Along::Y);
    is(&front.above, Above::Dwelling);
    is(&front.separation, Separation::Dwelling);
    at(&front.bearings, [0.0, 168.0]);
    // PS 20: a 2x10 measures 1-1/2 by 9-1/4 in.
    let [width, depth] = front.actual_size().expect("a nominal size");
    assert!((width.inches() - 1.5).abs() < 1e-12 && (depth.inches() - 9.25).abs() < 1e-12);
    let [_, depth] = back.actual_size().expect("a measured size");
    assert!((depth.inches() - 11.875).abs() < 1e-9);
    assert_eq!(front.doubles.len(), 1);
    assert!(back.extent.as_ref().is_some_and(|stated| stated.value.is_unknown()));
}

#[test]
fn dressed_sizes_are_those_of_the_lumber_standard() {
    // PS 20-20, table 3: dry, dressed: 2 in. nominal is 1-1/2 in. thick; widths of 4, 6, 8, 10 and 12 in.
    // nominal are 3-1/2, 5-1/2, 7-1/4, 9-1/4 and 11-1/4 in.
    let table = [("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2 x 10", 9.25), ("2X12", 11.25)];
    for (written, depth) in table {
        let job = job(&format!("{ROOM}[framing]\nsize = \"{written}\"\n"));
        let [width, found] = job.framing[0].actual_size().expect("a nominal size");
        assert!((width.inches() - 1.5).abs() < 1e-12, "{written}");
        assert!((found.inches() - depth).abs() < 1e-12, "{written}: {found:?}");
    }
    assert_eq!(
        job(&format!("{ROOM}[framing]\nsize = \"2x8 or 2x10\"\n")).framing[0].actual_size(),
        None
    );
}

#[test]
fn framing_that_cannot_be() {
    let zone = |more: &str| format!("{ROOM}[framing]\n{more}\n");
    refused(&zone("spacing = \"0 in\""), "cannot be this small");
    refused(&zone("size = \"2x10\"\nspacing = \"1-1/2 in\""), "touch each other");
    refused(&zone("extent = [\"0 ft\", \"14 ft\"]"), "no extent");
    refused(
        &zone("direction = \"y\"\nextent = [\"2 ft\", \"14 ft\"]\nfirst = \"3 ft\""),
        "beyond its edge",
    );
    refused(&zone("bearings = [\"14 ft\", \"0 ft\"]"), "wrong order");
    refused(&zone("size = \"2x8x\""), "did you mean");
    refused(&zone("direction = \"z\""), "cannot be `z`");
    refused(&zone("double = { member = 0 }"), "has no member 0");
    // Members stand 15-1/4 in. from the edge and then every 16 in.: 9 of them in 12 ft.
    let doubled = |member: u32| {
        zone(&format!(
            "size = \"2x10\"\nspacing = \"16 in\"\ndirection = \"y\"\nfirst = \"15-1/4 in\"\nextent = [\"12 ft\", \"14 ft\"]\ndouble = {{ member = {member}, side = \"before\" }}"
        ))
    };
    clean(&doubled(9));
    refused(&doubled(10), "has no member 10");
    doubted(&zone("kind = \"truss\"\nsize = \"2x4\""), "nominal size of sawn lumber");
    doubted(&zone("actual = \"9-1/4 in x 1-1/2 in\""), "wider than they are deep");
    doubted(&zone("bearings = [0, \"14 ft\"]\nspan = \"13 ft\""), "beside its bearings");
    doubted(&zone("spacing = \"8 ft\""), "unusually large");
}

#[test]
fn spaces_obstacles_and_ways_out() {
    let job = clean(&format!(
        "{ROOM}[space]\nkind = \"crawl space\"\nat = [0, 0, \"-3 ft\"]\nsize = [\"20 ft\", \"20 ft\", \"2 ft\"]\n[obstacle]\nkind = \"pipe\"\nat = [\"1 ft\", 0, \"8 ft\"]\nsize = [\"3 in\", \"3 in\", \"1 ft\"]\n[[way_out]]\nid = \"north-wall\"\nkind = \"wall\"\nfacing = \"+y\"\nat = [0, \"14 ft\", \"8 ft\"]\nsize = [\"12 ft\", 0, \"9 in\"]\nlayers = [{{ material = \"brick\", thickness = \"3-5/8 in\" }}]\ncoursing = {{ course = \"2-2/3 in\", joint = \"3/8 in\", unit = \"8 in\", bed = \"8 ft\" }}\n[[way_out.near]]\nid = \"pane\"\nkind = \"window\"\nopens = \"unknown\"\nat = [\"4 ft\", \"14 ft\", \"3 ft\"]\nsize = [\"3 ft\", 0, \"4 ft\"]\n[[way_out]]\nid = \"roof\"\nkind = \"roof\"\nfacing = \"up\"\nat = [0, 0, \"10 ft\"]\nsize = [\"12 ft\", \"6 ft\", \"3 ft\"]\npitch = \"1/2\"\ncover = \"shingles\"\n[[way_out]]\nid = \"old-hole\"\nkind = \"existing opening\"\nfacing = \"-x\"\nopening = \"4 in\"\n"
    ));
    is(&job.spaces[0].kind, SpaceKind::Crawl);
    assert_eq!(job.spaces[0].id, "space");
    at(&job.spaces[0].at, [0.0, 0.0, -36.0]);
    let [wall, roof, hole] = job.ways_out.as_slice() else { panic!("three ways out") };
    is(&wall.facing, Outward::PlusY);
    is(&hole.facing, Outward::MinusX);
    is(&hole.kind, WayOutKind::Existing);
    is(&roof.facing, Outward::Up);
    // Three courses of modular brick make 8 in.
    assert!((3.0 * inches(&wall.coursing.course) - 8.0).abs() < 1e-9);
    is(&wall.near[0].kind, NearKind::Window);
    assert_eq!(wall.near[0].opens.as_ref().map(|stated| stated.value), Some(YesNo::Unknown));
    let pitch = roof.pitch.as_ref().and_then(|stated| stated.value.likely());
    assert!(pitch.is_some_and(|pitch| (pitch.ratio() - 0.5).abs() < 1e-12));
}

#[test]
fn ways_out_that_do_not_go_together() {
    let way = |more: &str| format!("{ROOM}[way_out]\n{more}\n");
    refused(&way("size = [0, 0, 0]"), "no extent at all");
    refused(&way("terminal = \"cap\""), "no terminal has the id `cap`");
    refused(&way("coursing = { course = \"2 in\", joint = \"3 in\" }"), "as thick as its courses");
    refused(&way("facing = \"north\""), "cannot be `north`");
    refused(&way("at = [0, 0]"), "3 lengths belong here, not 2");
    doubted(
        &way("kind = \"wall\"\nfacing = \"+y\"\nsize = [\"12 ft\", \"6 in\", \"1 ft\"]"),
        "in which it looks",
    );
    doubted(&way("kind = \"gable\"\nfacing = \"up\""), "stands upright");
    doubted(&way("kind = \"wall\"\ncover = \"slate\""), "is no roof");
    doubted(&way("slope = \"30 deg\"\npitch = 0.5"), "written twice");
    doubted(&way("near = { kind = \"grade\", opens = true }"), "neither window nor door");
    let spot = |at: &str| {
        way(&format!(
            "at = [0, \"14 ft\", \"8 ft\"]\nsize = [\"12 ft\", 0, \"9 in\"]\nterminal_at = {at}"
        ))
    };
    clean(&spot("[\"12 ft\", \"14 ft\"]"));
    refused(&spot("[\"13 ft\", \"14 ft\"]"), "outside of the window");
    refused(&spot("[\"5 ft\", \"13 ft\"]"), "outside of the window");
    refused(&format!("{ROOM}[obstacle]\nsize = [\"1 ft\", \"1 ft\", 0]\n"), "no extent");
}

#[test]
fn housings_and_where_they_hang() {
    let fan = &clean(&format!(
        "{ROOM}at = [0, 0]\n[fan]\nrated = \"80 cfm at 0.1 inWC\"\nhousing = \"10 in x 11 in x 7 in\"\noutlet_side = \"end\"\noutlet_offset = \"-1 in\"\noutlet_height = \"4 in\"\ncollar = \"1-1/2 in\"\nflange = \"1 in\"\nat = [\"4 ft\", \"2 ft\"]\nrotation = \"270 deg\"\n[run]\nlength = \"8 ft\"\nsize = \"4 in\"\n[terminal]\n"
    ))
    .fans[0]
    .clone();
    is(&fan.data.body.outlet_side, OutletSide::End);
    assert!((inches(&fan.data.body.outlet_offset) + 1.0).abs() < 1e-9);
    at(&fan.at, [48.0, 24.0]);
    let fan = |more: &str| format!("{ROOM}at = [0, 0]\n[fan]\nroom = \"room\"\n{more}\n");
    refused(&fan("housing = \"10 ft x 9 in x 7 in\""), "larger than room");
    refused(&fan("flange = \"3 ft\""), "cannot be this large");
    doubted(&fan("rotation = \"45 deg\""), "not turned by quarters");
    doubted(&fan("at = [\"30 ft\", \"2 ft\"]"), "lies outside of room");
}

#[test]
fn a_library_lends_the_collar_with_the_housing() {
    let library = dewpath_job::library::read(
        "library.toml",
        "format = 1\n[[fan]]\nid = \"q\"\nhousing = \"10 in x 10 in x 7 in\"\noutlet_side = \"flank\"\ncollar = \"2 in\"\n",
    )
    .unwrap_or_else(|told| panic!("{told}"));
    let resolved = |more: &str| {
        let written = text(&format!("{ROOM}[fan]\nmodel = \"q\"\n{more}"));
        let read = read("house.toml", &written).unwrap_or_else(|told| panic!("{told}"));
        read.resolve(&library).unwrap_or_else(|told| panic!("{told}")).fans[0].data.body.clone()
    };
    let lent = resolved("collar = \"1 in\"\n");
    is(&lent.outlet_side, OutletSide::Flank);
    assert!((inches(&lent.collar) - 1.0).abs() < 1e-9, "what the job writes wins");
    // Another housing has another collar.
    assert!(resolved("housing = \"8 in x 8 in x 6 in\"\n").outlet_side.is_none());
}

#[test]
fn places_are_compared_and_changed_by_their_paths() {
    let before = text(&format!(
        "{ROOM}at = [0, 0]\n[[room.wall]]\nid = \"north\"\ncorner = 3\nlayers = [{{ material = \"drywall\", thickness = \"1/2 in\" }}]\n[framing] # front\nspacing = \"16 in\"\n[[way_out]]\nid = \"wall\"\n[[way_out.near]]\nid = \"pane\"\nkind = \"window\"\n"
    ));
    let set = |at: &str, value: &str| Set { at: at.to_owned(), value: value.to_owned() };
    let patch = Patch {
        set: vec![
            set("room.room.at", "[\"2 ft\", \"-1 ft\"]"),
            set("room.room.wish", "centre"),
            set("room.room.wall.north.layers.1.thickness", "5/8 in"),
            set("framing.framing.extent", "[\"12 ft\", \"14 ft\"]"),
            set("way_out.wall.near.pane.at", "[\"4 ft\", \"14 ft\", \"3 ft\"]"),
            set("obstacle.pipe", "{ kind = \"pipe\", at = [0, 0, \"8 ft\"] }"),
        ],
        remove: vec!["framing.framing.spacing".to_owned()],
    };
    let after = apply(&before, &patch).unwrap();
    assert!(after.contains("# front"), "{after}");
    let job = read("house.toml", &after).unwrap_or_else(|told| panic!("{told}\n{after}")).job;
    at(&job.rooms[0].plan.at, [24.0, -12.0]);
    assert!((inches(&job.rooms[0].plan.walls[0].layers[0].thickness) - 0.625).abs() < 1e-9);
    at(&job.ways_out[0].near[0].at, [48.0, 168.0, 36.0]);
    assert!(job.framing[0].spacing.is_none());
    assert_eq!(job.obstacles[0].id, "pipe");
    let changes = diff::changes(("a.toml", &before), ("b.toml", &after)).unwrap();
    let changed: Vec<&str> = changes.iter().map(|change| change.at.as_str()).collect();
    for path in [
        "framing.framing.spacing",
        "room.room.at",
        "room.room.wall.north.layers.1.thickness",
        "way_out.wall.near.pane.at",
    ] {
        assert!(changed.contains(&path), "{path} is not among {changed:?}");
    }
}
