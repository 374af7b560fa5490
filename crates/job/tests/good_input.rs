//! What is written is what is read: every way of writing a value, and what may be left out.
//!
//! Factors: NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly, 1 ft3/min = 4.719 474 E-04 m3/s,
//! 1 inch of water (conventional) = 249.0889 Pa; 1 Btu-type R-value h·ft2·°F/Btu = 0.176 110 2 m2·K/W.
#![expect(clippy::panic, reason = "helpers of tests stand outside of test functions")]

use std::sync::LazyLock;

use dewpath_job::model::{
    Draft, DuctKind, ElbowMake, Finish, Job, PartKind, Pull, RunShape, RunSum, Section, Show,
    TerminalKind, Work,
};
use dewpath_job::{Read, read};
use dewpath_message::Speak as _;
use dewpath_units::{Choice, Length, Origin, Uncertain, YesNo};
use dewpath_words::Speaker;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

fn good(text: &str) -> Read {
    read("folder/some-bath.toml", text).unwrap_or_else(|told| panic!("{told}"))
}

fn job(text: &str) -> Job {
    good(&format!("format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n{text}")).job
}

fn sum(job: &Job) -> &RunSum {
    match &job.runs[0].shape {
        RunShape::Sum(sum) => sum,
        RunShape::Parts(_) => panic!("described by its sum"),
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-6 * b.abs().max(1e-9)
}

#[test]
fn quantities_are_read_in_any_unit() {
    let job = job(
        "length = \"9 ft 4-1/2 in\"\nwidth = \"1.5 m\"\nheight = \"96 in\"\n[fan]\nrated = \"80 cfm at 0.1 inWC\"\n[run]\ninsulation = \"R-8\"\nlength = \"8..10 ft\"\n",
    );
    let room = &job.rooms[0];
    let metres = |given: &dewpath_job::model::Given<Length>| {
        given.as_ref().unwrap().value.likely().unwrap().m()
    };
    assert!(near(metres(&room.length), 2.8575));
    assert!(near(metres(&room.width), 1.5));
    assert!(near(metres(&room.height), 2.4384));
    let rated = &job.fans[0].data.rated[0];
    assert!(near(rated.airflow.value.likely().unwrap().m3_s(), 80.0 * 4.719_474e-4));
    assert!(near(rated.pressure.as_ref().unwrap().value.likely().unwrap().pa(), 24.90889));
    assert!(near(
        sum(&job).duct.insulation.as_ref().unwrap().value.likely().unwrap().rsi(),
        8.0 * 0.176_110_2
    ));
    let Uncertain::Range { low, high } = sum(&job).length.as_ref().unwrap().value else {
        panic!("a range")
    };
    assert!(near(low.m(), 2.4384) && near(high.m(), 3.048));
}

#[test]
fn sizes_are_round_rectangular_oval_several_or_unknown() {
    let size = |text: &str| {
        sum(&job(&format!("[fan]\n[run]\nsize = {text}\n"))).duct.size.clone().unwrap().value
    };
    let inches = Length::from_inches;
    let is = |found: &Section, wanted: Section| match (found, wanted) {
        (Section::Round(a), Section::Round(b)) => near(a.m(), b.m()),
        (Section::Rectangular(a, b), Section::Rectangular(c, d))
        | (Section::Oval(a, b), Section::Oval(c, d)) => near(a.m(), c.m()) && near(b.m(), d.m()),
        _ => false,
    };
    for (text, wanted) in [
        ("\"4 in\"", Section::Round(inches(4.0))),
        ("\"round 4 in\"", Section::Round(inches(4.0))),
        ("\"100 mm\"", Section::Round(Length::from_mm(100.0))),
        ("\"3-1/4 x 10 in\"", Section::Rectangular(inches(3.25), inches(10.0))),
        ("\"3-1/4 in x 10 in\"", Section::Rectangular(inches(3.25), inches(10.0))),
        ("\"220 × 55 mm\"", Section::Rectangular(Length::from_mm(220.0), Length::from_mm(55.0))),
        ("\"oval 3 x 7 in\"", Section::Oval(inches(7.0), inches(3.0))),
        ("\"oval 7 x 3 in\"", Section::Oval(inches(7.0), inches(3.0))),
    ] {
        let Choice::Known(found) = size(text) else { panic!("{text}") };
        assert!(is(&found, wanted), "{text}: {found:?}");
    }
    for text in ["\"3 in or 4 in\"", "\"3 or 4 in\"", "[\"3 in\", \"4 in\"]"] {
        let Choice::OneOf(found) = size(text) else { panic!("{text}") };
        assert!(
            is(&found[0], Section::Round(inches(3.0)))
                && is(&found[1], Section::Round(inches(4.0))),
            "{text}"
        );
    }
    assert_eq!(size("\"unknown\""), Choice::Unknown);
}

#[test]
fn words_counts_and_answers_may_be_open() {
    let job = job(
        "fixtures = { toilets = 1, showers = \"1..2\", tubs = \"unknown\" }\nwindow = { present = \"unknown\" }\n[fan]\ndamper = true\nrunning = \"no\"\n[run]\nduct = \"Flex or smooth_metal\"\npulled = \"unknown\"\nelbows = 2\nelbow_make = \"5-piece\"\n[dwelling]\nappliance = { draft = \"natural\" }\n",
    );
    let fixtures = &job.rooms[0].fixtures;
    assert_eq!(fixtures.toilets.as_ref().unwrap().value, Uncertain::Exact(1));
    assert_eq!(fixtures.showers.as_ref().unwrap().value, Uncertain::Range { low: 1, high: 2 });
    assert_eq!(fixtures.tubs.as_ref().unwrap().value, Uncertain::Unknown);
    assert_eq!(fixtures.jetted_tubs, None, "left out is not unknown");
    assert_eq!(job.rooms[0].window.present.as_ref().unwrap().value, YesNo::Unknown);
    assert_eq!(job.fans[0].data.damper.as_ref().unwrap().value, YesNo::Yes);
    assert_eq!(job.fans[0].running.as_ref().unwrap().value, YesNo::No);
    let run = sum(&job);
    assert_eq!(
        run.duct.kind.as_ref().unwrap().value,
        Choice::OneOf(vec![DuctKind::Flex, DuctKind::SmoothMetal])
    );
    assert_eq!(run.duct.pulled.as_ref().unwrap().value, Choice::<Pull>::Unknown);
    assert_eq!(run.elbow_make.as_ref().unwrap().value, Choice::Known(ElbowMake::FivePiece));
    let appliance = &job.dwelling.appliances[0];
    assert_eq!(
        (appliance.id.as_str(), &appliance.draft.as_ref().unwrap().value),
        ("appliance", &Choice::Known(Draft::Natural))
    );
}

#[test]
fn a_value_says_where_it_comes_from() {
    let job = job(
        "length = { value = \"about 9 ft +- 1 ft\", origin = \"assumed\", on = 2026-03-02, photo = \"a.jpg\", note = \"by eye\" }\nwidth = \"5 ft\"\n",
    );
    let length = job.rooms[0].length.as_ref().unwrap();
    assert_eq!(length.origin, Origin::Assumed);
    assert_eq!(
        (length.date.as_deref(), length.photo.as_deref(), length.note.as_deref()),
        (Some("2026-03-02"), Some("a.jpg"), Some("by eye"))
    );
    assert!(
        matches!(length.value, Uncertain::About { likely, spread } if near(likely.feet(), 9.0) && near(spread.feet(), 1.0))
    );
    assert_eq!(job.rooms[0].width.as_ref().unwrap().origin, Origin::Written);
}

#[test]
fn falls_and_depths_below_are_negative() {
    let job = job(
        "[fan]\n[run]\nrise = \"-4 in\"\n[terminal]\nclear = { above_opening = \"-1..2 ft\" }\n[site]\naltitude = \"-6 m\"\n",
    );
    let exact = |given: &dewpath_job::model::Given<Length>| {
        given.as_ref().unwrap().value.exact().unwrap().m()
    };
    assert!(near(exact(&job.runs[0].rise), -0.1016));
    assert!(near(exact(&job.site.altitude), -6.0));
    let above = job.terminals[0].clear.above_opening.as_ref().unwrap().value;
    assert!(
        matches!(above, Uncertain::Range { low, high } if near(low.feet(), -1.0) && near(high.feet(), 2.0)),
        "{above:?}"
    );
}

#[test]
fn a_lone_room_fan_run_and_terminal_need_no_ids() {
    let read = good(
        "format = 1\nshow = \"metric\"\n[room]\nkind = \"wc\"\n[fan]\nrated = \"25 L/s\"\n[run]\nlength = \"3 m\"\n[terminal]\nkind = \"roof cap\"\n",
    );
    assert!(read.warnings.is_empty());
    let job = read.job;
    assert_eq!((job.name.as_str(), job.show, job.work), ("some-bath", Show::Metric, Work::New));
    assert_eq!((job.rooms[0].id.as_str(), job.fans[0].id.as_str()), ("room", "fan"));
    assert_eq!(job.fans[0].room.as_deref(), Some("room"));
    assert_eq!((job.runs[0].from.as_str(), job.runs[0].to.as_str()), ("fan", "terminal"));
}

#[test]
fn a_run_that_ends_nobody_knows_where_is_said_to() {
    let read = good(
        "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n[fan]\nrated = \"80 cfm\"\n[run]\nlength = \"9 ft\"\n",
    );
    assert_eq!(read.warnings.list.len(), 1);
    assert_eq!(read.job.terminals[0].kind, None, "not written, rather than taken for something");
    assert_eq!(read.job.runs[0].to, "terminal");
}

#[test]
fn units_of_the_output_follow_the_rule_book_and_say_so() {
    let text = "format = 1\nrule_book = \"dk-br18\"\n[room]\nkind = \"bathroom\"\n[fan]\n[run]\n[terminal]\n";
    let read = good(text);
    assert_eq!(read.job.show, Show::Metric);
    assert!(ENGLISH.say(&read.warnings.list[0].message).contains("metric"));
    assert_eq!(good(&text.replace("dk-br18", "us-irc-2021")).job.show, Show::Us);
}

#[test]
fn parts_are_numbered_when_they_have_no_id() {
    let job = job(
        "[fan]\n[run]\nsize = \"4 in\"\n[[run.part]]\npiece = { length = \"6 ft\" }\n[[run.part]]\nother = { name = \"silencer\", point = { value = \"80 cfm at 12 Pa\", origin = \"label\" } }\n",
    );
    let RunShape::Parts(parts) = &job.runs[0].shape else { panic!("parts") };
    assert_eq!((parts[0].id.as_str(), parts[1].id.as_str()), ("part-1", "part-2"));
    let PartKind::Other { point, .. } = &parts[1].kind else { panic!("other") };
    assert_eq!(point.pressure.origin, Origin::Label);
    assert!(near(point.pressure.value.likely().unwrap().pa(), 12.0));
}

#[test]
fn places_lead_back_to_what_was_typed() {
    let text = "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\nwidth = \"5 ft\"\n[fan]\n[run]\n[terminal]\n";
    let read = good(text);
    assert_eq!(&text[read.places["room.room.width"].clone()], "\"5 ft\"");
}

#[test]
fn the_day_of_the_job_is_a_date_with_or_without_quotes() {
    let rest = "\n[room]\nkind = \"bathroom\"\n[fan]\n[run]\n[terminal]\n";
    for written in ["2026-03-14", "\"2026-03-14\""] {
        let read = good(&format!("format = 1\nshow = \"us\"\ndate = {written}{rest}"));
        assert_eq!(read.job.date.map(|day| day.to_string()).as_deref(), Some("2026-03-14"));
    }
    // Nobody wrote it, or nobody knows: it is not taken from a clock.
    for line in ["", "\ndate = \"unknown\""] {
        assert_eq!(good(&format!("format = 1\nshow = \"us\"{line}{rest}")).job.date, None);
    }
}

/// What a tradesperson calls it is what the reader takes it for.
#[test]
fn words_of_the_trade_are_read() {
    let duct = |word: &str| {
        sum(&job(&format!("[fan]\n[run]\nduct = \"{word}\"\n"))).duct.kind.clone().unwrap().value
    };
    for (word, kind) in [
        ("galvanised", DuctKind::SmoothMetal),
        ("Galvanized steel", DuctKind::SmoothMetal),
        ("sheet metal", DuctKind::SmoothMetal),
        ("rigid", DuctKind::SmoothMetal),
        ("hard pipe", DuctKind::SmoothMetal),
        ("foil flex", DuctKind::Flex),
        ("semi-rigid aluminum", DuctKind::SemiRigid),
        ("duct board", DuctKind::DuctBoard),
    ] {
        assert_eq!(duct(word), Choice::Known(kind), "{word}");
    }
    let terminal = |word: &str| {
        let text = format!("[fan]\n[run]\n[terminal]\nkind = \"{word}\"\n");
        job(&text).terminals[0].kind.clone().unwrap().value
    };
    for (word, kind) in [
        ("brick vent", TerminalKind::WallCap),
        ("airbrick", TerminalKind::WallCap),
        ("roof jack", TerminalKind::RoofCap),
        ("gooseneck", TerminalKind::RoofCap),
    ] {
        assert_eq!(terminal(word), Choice::Known(kind), "{word}");
    }
    let finish =
        |word: &str| job(&format!("finish = \"{word}\"\n")).rooms[0].finish.clone().unwrap().value;
    for (word, lining) in [
        ("gloss", Finish::Gloss),
        ("oil paint", Finish::Gloss),
        ("eggshell", Finish::Latex),
        ("bare drywall", Finish::BareGypsum),
    ] {
        assert_eq!(finish(word), Choice::Known(lining), "{word}");
    }
    assert_eq!(finish("gloss or oil paint"), Choice::Known(Finish::Gloss), "two words for one");
}

#[test]
fn one_count_or_the_next_is_a_range() {
    let bedrooms = |text: &str| {
        job(&format!("[dwelling]\nbedrooms = \"{text}\"\n")).dwelling.bedrooms.unwrap().value
    };
    assert_eq!(bedrooms("3 or 4"), Uncertain::Range { low: 3, high: 4 });
    assert_eq!(bedrooms("4 or 3"), Uncertain::Range { low: 3, high: 4 });
    assert_eq!(bedrooms("2..4"), Uncertain::Range { low: 2, high: 4 });
}

#[test]
fn an_equivalent_length_stands_for_length_and_elbows() {
    let job = job("[fan]\n[run]\nequivalent_length = \"75 ft\"\n");
    let run = sum(&job);
    assert!(near(run.equivalent_length.as_ref().unwrap().value.likely().unwrap().m(), 22.86));
    assert!(run.length.is_none() && run.elbows.is_none());
}

/// 1 US gallon = 3.785 412 E-03 m3.
#[test]
fn a_bag_has_a_volume_and_a_time() {
    let job = job("[[reading]]\nat = \"room\"\nbag = { volume = \"13 gal\", time = \"4.2 s\" }\n");
    let bag = &job.readings[0].bag;
    assert!(near(bag.volume.as_ref().unwrap().value.likely().unwrap().m3(), 13.0 * 3.785_412e-3));
    assert!(near(bag.time.as_ref().unwrap().value.likely().unwrap().s(), 4.2));
}
