//! The example jobs and the demo library read without a warning, fit the schema, and hold what they say.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests stand outside of test functions"
)]

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use dewpath_job::model::{Library, Section};
use dewpath_job::outline::Form;
use dewpath_job::{diff, library, patch, read, read_as_built, schema};
use dewpath_message::Speak as _;
use dewpath_units::{Choice, Uncertain};
use dewpath_words::{Catalogue, Speaker};

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

fn jobs() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../jobs")
}

const NAMES: [&str; 10] = [
    "hall-bath",
    "basement-shower",
    "two-baths-inline",
    "swap-hidden-duct",
    "shared-riser-flat",
    "call-back",
    "guest-bath-joist-bay",
    "gable-prairie-winter",
    "wall-fan-terrace",
    "call-back-july-drip",
];

fn text_of(name: &str) -> String {
    std::fs::read_to_string(jobs().join(format!("{name}.toml"))).unwrap()
}

fn demo() -> Library {
    let text = std::fs::read_to_string(jobs().join("library/demo.toml")).unwrap();
    library::read("library/demo.toml", &text).unwrap_or_else(|told| panic!("{told}"))
}

fn as_json(text: &str) -> serde_json::Value {
    fn plain(value: toml::Value) -> serde_json::Value {
        match value {
            toml::Value::Datetime(date) => serde_json::Value::String(date.to_string()),
            toml::Value::Table(table) => table.into_iter().map(|(k, v)| (k, plain(v))).collect(),
            toml::Value::Array(items) => items.into_iter().map(plain).collect(),
            other => serde_json::to_value(other).unwrap(),
        }
    }
    plain(toml::Value::Table(toml::from_str(text).unwrap()))
}

#[test]
fn every_example_reads_without_a_warning_and_resolves() {
    let library = demo();
    for name in NAMES {
        let read =
            read(&format!("{name}.toml"), &text_of(name)).unwrap_or_else(|told| panic!("{told}"));
        assert!(read.warnings.is_empty(), "{}", read.warnings);
        let job = read.resolve(&library).unwrap_or_else(|told| panic!("{told}"));
        assert!(job.fans.iter().all(|fan| !fan.data.rated.is_empty()), "{name}: a rating is known");
    }
}

#[test]
fn every_example_fits_the_schema() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    for name in NAMES {
        let json = as_json(&text_of(name));
        let wrong: Vec<String> =
            validator.iter_errors(&json).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(wrong.is_empty(), "{name}: {wrong:#?}");
    }
    assert!(validator.is_valid(&as_json(dewpath_job::starter())));
    let library = jsonschema::validator_for(&dewpath_job::library_schema()).unwrap();
    let demo = std::fs::read_to_string(jobs().join("library/demo.toml")).unwrap();
    assert!(library.is_valid(&as_json(&demo)));
}

#[test]
fn the_schema_refuses_what_the_reader_refuses() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    for wrong in [
        "colour = \"red\"",
        "[room]\nkind = \"bathroom\"\nwidht = \"5 ft\"",
        "[room]\nlength = \"5 ft\"",
        "[room]\nkind = \"bathroom\"\nlength = 5",
        "[run]\nelbows = -2",
        "format = 2",
        "[fan]\nid = \"no blanks here\"",
        "[site.months]\ntemperature = [\"50 F\"]",
        "[dwelling]\nprices = { electricity = -1 }",
        "[room]\nkind = \"bathroom\"\nsurface = { area = \"6 ft2\" }",
        "[run]\npart = { trap = { size = \"4 in\" } }",
    ] {
        assert!(!validator.is_valid(&as_json(wrong)), "{wrong}");
        assert!(read("wrong.toml", wrong).is_err(), "{wrong}");
    }
}

#[test]
fn the_starter_reads_and_its_remarks_are_good_lines_too() {
    let starter = dewpath_job::starter();
    let plain = read("new.toml", starter).unwrap_or_else(|told| panic!("{told}"));
    assert!(plain.warnings.is_empty(), "{}", plain.warnings);
    // Every line that is offered as a remark must be right when its # is taken away.
    let offered: String = starter
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(rest)
                if rest.starts_with('[')
                    || rest.split_once(" = ").is_some_and(|(key, _)| {
                        key.chars().all(|c| c.is_ascii_lowercase() || c == '_')
                    }) =>
            {
                rest
            }
            _ => line,
        })
        .fold(String::new(), |text, line| text + line + "\n");
    assert_ne!(offered, starter);
    let read = read("new.toml", &offered).unwrap_or_else(|told| panic!("{told}"));
    assert_eq!(read.job.fans[0].model.as_deref(), Some("quiet-80"));
}

#[test]
fn the_demo_library_is_plausible() {
    let library = demo();
    assert!(library.fans.len() >= 26, "{}", library.fans.len());
    for fan in &library.fans {
        let curve = &fan.data.curve;
        for pair in curve.windows(2) {
            assert!(
                pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1,
                "{}: flow falls with pressure",
                fan.id
            );
        }
        // A rating lies on its fan's own curve, within what a label rounds away (2 %).
        for rated in &fan.data.rated {
            let (Uncertain::Exact(flow), Some(Uncertain::Exact(pressure))) =
                (rated.airflow.value, rated.pressure.as_ref().map(|p| p.value))
            else {
                continue;
            };
            if fan.data.holds_flow.is_some() || curve.is_empty() {
                continue;
            }
            let on_curve = curve
                .windows(2)
                .find(|pair| pair[0].1 >= pressure && pressure >= pair[1].1)
                .map(|pair| {
                    let share = (pair[0].1 - pressure) / (pair[0].1 - pair[1].1);
                    pair[0].0 + (pair[1].0 - pair[0].0) * share
                });
            let Some(on_curve) = on_curve else {
                panic!("{}: the rating lies on the curve", fan.id)
            };
            assert!((on_curve / flow - 1.0).abs() < 0.02, "{}: {on_curve} against {flow}", fan.id);
        }
        // Efficacy of bath fans lies between about 1 and 15 cfm/W (common practice, no source).
        if let (Some(rated), Some(power)) = (fan.data.rated.first(), &fan.data.power) {
            let (flow, power) =
                (rated.airflow.value.likely().unwrap(), power.value.likely().unwrap());
            let efficacy = flow.cfm() / power.w();
            assert!((1.0..15.0).contains(&efficacy), "{}: {efficacy} cfm/W", fan.id);
        }
    }
}

#[test]
fn what_the_job_writes_wins_over_the_library() {
    let text = "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n[fan]\nmodel = \"quiet-80\"\nrated = \"60 cfm at 0.1 inWC\"\npower = \"9 W\"\n[run]\nduct_model = \"flex-4-r8\"\nsize = \"5 in\"\nlength = \"9 ft\"\n[terminal]\nmodel = \"wall-cap-4\"\nflap = false\n";
    let job = read("job.toml", text).unwrap().resolve(&demo()).unwrap();
    let data = &job.fans[0].data;
    assert_eq!(data.rated.len(), 1);
    assert!(data.curve.is_empty(), "a rating written in the job replaces the model's curve too");
    assert!((data.power.as_ref().unwrap().value.likely().unwrap().w() - 9.0).abs() < 1e-12);
    assert_eq!(data.power.as_ref().unwrap().origin, dewpath_units::Origin::Written);
    assert_eq!(data.loudness.as_ref().unwrap().origin, dewpath_units::Origin::Label);
    let dewpath_job::model::RunShape::Sum(sum) = &job.runs[0].shape else { panic!("a sum") };
    assert!(
        matches!(&sum.duct.size.as_ref().unwrap().value, Choice::Known(Section::Round(d)) if (d.inches() - 5.0).abs() < 1e-9)
    );
    assert_eq!(
        sum.duct.kind.as_ref().unwrap().value,
        Choice::Known(dewpath_job::model::DuctKind::Flex)
    );
    assert!(sum.duct.insulation.is_some());
    assert_eq!(job.terminals[0].flap.as_ref().unwrap().value, dewpath_units::YesNo::No);
    assert!(job.terminals[0].point.is_some());
}

#[test]
fn a_missing_model_is_told_with_the_nearest() {
    let text = "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n[fan]\nmodel = \"quiet-08\"\n[run]\nduct_model = \"flexx\"\nlength = \"9 ft\"\n[terminal]\nmodel = \"zzzz\"\n";
    let told = read("job.toml", text).unwrap().resolve(&demo()).unwrap_err();
    assert_eq!(told.list.len(), 3);
    insta::assert_snapshot!("missing_models", told.render(&*ENGLISH, 100, false));
    let told = read("job.toml", text).unwrap().resolve(&Library::default()).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).contains("name its file at the top"));
}

#[test]
fn parts_take_from_the_run_what_they_do_not_say() {
    let job = read("hall-bath.toml", &text_of("hall-bath")).unwrap().job;
    let dewpath_job::model::RunShape::Parts(parts) = &job.runs[0].shape else { panic!("parts") };
    assert_eq!(parts.len(), 5);
    let dewpath_job::model::PartKind::Piece { duct, .. } = &parts[1].kind else {
        panic!("a piece")
    };
    assert!(duct.size.is_some() && duct.place.is_some());
    assert!(
        duct.insulation.is_some(),
        "the run's insulation holds for a piece that names only its kind"
    );
}

#[test]
fn a_csv_library_says_the_same_as_a_toml_one() {
    let csv = "id,name,kind,rated,curve,loudness,loudness_at,power,outlet,damper\n\
               quiet-80,Quiet 80,centrifugal,80 cfm at 0.1 inWC; 64 cfm at 0.25 inWC,90 cfm at 0 inWC; 80 cfm at 0.1 inWC;64 cfm at 0.25 inWC; 45 cfm at 0.36 inWC; 0 cfm at 0.46 inWC,0.8 sones,0.1 inWC,18 W,4 in,yes\n\
               \"bare\",,,,,,,,,\n";
    let library = library::read_csv("fans.csv", csv).unwrap_or_else(|told| panic!("{told}"));
    let demo = demo();
    let same = demo.fans.iter().find(|fan| fan.id == "quiet-80").unwrap();
    let read = &library.fans[0];
    assert_eq!((&read.data.rated, &read.data.curve), (&same.data.rated, &same.data.curve));
    assert_eq!(
        (&read.data.loudness, &read.data.power, &read.data.outlet, &read.data.damper),
        (&same.data.loudness, &same.data.power, &same.data.outlet, &same.data.damper)
    );
    assert_eq!(library.fans[1].id, "bare");
}

#[test]
fn a_bad_csv_library_is_told_with_its_cell() {
    let csv = "id,rating,power\nquiet-80,80 cfm,18 W\n";
    insta::assert_snapshot!(
        "csv_unknown_column",
        library::read_csv("fans.csv", csv).unwrap_err().render(&*ENGLISH, 100, false)
    );
    let csv = "id,rated,power\nquiet-80,80 cfm at 0.1,18 ft\nquiet-80,50 cfm,12 W\nlong,50 cfm,12 W,4 in\n";
    insta::assert_snapshot!(
        "csv_too_many_cells",
        library::read_csv("fans.csv", csv).unwrap_err().render(&*ENGLISH, 100, false)
    );
    let csv = "id,rated,power\nquiet-80,80 cfm at 0.1,18 ft\nquiet-80,50 cfm,12 W\n,60 cfm,\n";
    insta::assert_snapshot!(
        "csv_bad_values",
        library::read_csv("fans.csv", csv).unwrap_err().render(&*ENGLISH, 100, false)
    );
    assert!(library::read_csv("fans.csv", "").is_err());
}

#[test]
fn libraries_join_and_the_later_wins() {
    let one = library::read_csv("a.csv", "id,power\na,10 W\nb,20 W\n").unwrap();
    let two = library::read_csv("b.csv", "id,power\nb,30 W\nc,40 W\n").unwrap();
    let all = Library::joined([one, two]);
    let ids: Vec<&str> = all.fans.iter().map(|fan| fan.id.as_str()).collect();
    assert_eq!(ids, ["a", "b", "c"]);
    assert!(
        (all.fans[1].data.power.as_ref().unwrap().value.likely().unwrap().w() - 30.0).abs() < 1e-12
    );
}

fn set(at: &str, value: &str) -> patch::Patch {
    patch::Patch {
        set: vec![patch::Set { at: at.into(), value: value.into() }],
        remove: Vec::new(),
    }
}

#[test]
fn a_patch_changes_one_value_and_keeps_every_remark() {
    let before = text_of("hall-bath");
    let remarks = |text: &str| {
        text.lines().filter_map(|l| l.find('#').map(|i| l[i..].to_owned())).collect::<Vec<_>>()
    };
    for (at, value, shown) in [
        ("fan.ceiling-fan.model", "\"quiet-110\"", "quiet-110"),
        ("run.attic-run.part.to-gable.elbow.angle", "\"90 deg\"", "90 deg"),
        ("run.attic-run.part.over-joists.piece.length", "7 ft", "7 ft"),
        ("room.hall-bath.fixtures.toilets", "2", "2"),
        ("dwelling.appliance.heater.draft", "sealed", "sealed"),
        ("site.altitude", "\"900 ft\"", "900 ft"),
        ("name", "Other name", "Other name"),
    ] {
        let after = patch::apply(&before, &set(at, value)).unwrap();
        assert_eq!(remarks(&before), remarks(&after), "{at}");
        let changes = diff::changes(("a", &before), ("b", &after)).unwrap();
        assert_eq!(changes.len(), 1, "{at}: {changes:?}");
        assert_eq!((changes[0].at.as_str(), changes[0].new.as_deref()), (at, Some(shown)));
        read("after.toml", &after).unwrap_or_else(|told| panic!("{at}: {told}"));
    }
}

#[test]
fn a_patch_adds_keys_sections_and_elements_and_takes_them_away() {
    let before = "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n[fan] # the old one\nrated = \"80 cfm\"\nroom = \"room\"\n[run]\nfrom = \"fan\"\nto = \"terminal\"\n[terminal]\n";
    let patch = patch::Patch {
        set: vec![
            patch::Set { at: "site.altitude".into(), value: "\"5000 ft\"".into() },
            patch::Set { at: "run.run.length".into(), value: "\"12 ft\"".into() },
            patch::Set { at: "terminal.terminal.clear.opening".into(), value: "4 ft".into() },
            patch::Set {
                at: "fan.second".into(),
                value: "{ rated = \"50 cfm\", room = \"room\", running = false }".into(),
            },
        ],
        remove: vec!["terminal.terminal.clear.opening".into()],
    };
    let after = patch::apply(before, &patch).unwrap();
    let read = read("after.toml", &after).unwrap_or_else(|told| panic!("{told}\n{after}"));
    assert_eq!(read.job.fans.iter().map(|f| f.id.as_str()).collect::<Vec<_>>(), ["fan", "second"]);
    assert!(read.job.site.altitude.is_some());
    assert!(after.contains("# the old one"));
    let gone =
        patch::apply(&after, &patch::Patch { set: vec![], remove: vec!["fan.second".into()] })
            .unwrap();
    assert!(!gone.contains("second"));
}

#[test]
fn a_patch_that_leads_nowhere_says_so() {
    let text = text_of("hall-bath");
    for (at, message, hint) in [
        ("fan.ceiling.model", "no fan has the id `ceiling`", "did you mean `ceiling-fan`?"),
        ("fan.ceiling-fan.modle", "`modle` is not a key of [[fan]]", "did you mean `model`?"),
        ("run", "names a list", "name one of its elements"),
        ("", "is not a key", ""),
        ("fan.ceiling-fan", "names a whole fan", "go on to one of its keys"),
        ("name.x", "is a plain value", "end the path"),
    ] {
        let error = patch::apply(&text, &set(at, "\"x\"")).unwrap_err();
        assert!(
            ENGLISH.say(&error.message).contains(message)
                && ENGLISH.say(&error.hint).contains(hint),
            "{at}: {error}"
        );
    }
    assert!(patch::apply("a = [", &set("name", "x")).is_err());
    let serial = serde_json::to_string(&set("run.a.length", "\"1 ft\"")).unwrap();
    assert_eq!(serial, r#"{"set":[{"at":"run.a.length","value":"\"1 ft\""}]}"#);
}

#[test]
fn as_built_values_are_laid_over_the_design() {
    let mut text = text_of("hall-bath");
    text.push_str("\n[[built]]\nat = \"run.attic-run.part.along-truss.piece.length\"\nvalue = \"11 ft\"\ndate = \"2026-05-01\"\n[[built]]\nat = \"fan.ceiling-fan.model\"\nvalue = \"quiet-110\"\n");
    let design = read("job.toml", &text).unwrap();
    let built = read_as_built("job.toml", &text).unwrap();
    assert_eq!(design.job.fans[0].model.as_deref(), Some("quiet-80"));
    assert_eq!(built.job.fans[0].model.as_deref(), Some("quiet-110"));
    assert_eq!(built.job.built.len(), 2);
    text.push_str("[[built]]\nat = \"run.attic.length\"\nvalue = \"9 ft\"\n");
    let told = read_as_built("job.toml", &text).unwrap_err();
    insta::assert_snapshot!("built_value_leads_nowhere", told.render(&*ENGLISH, 100, false));
}

#[test]
fn differences_are_found_by_id_whatever_the_order() {
    let a = text_of("two-baths-inline");
    let mut document: sections::Sections = sections::split(&a);
    document.reverse();
    let b = document.concat();
    assert_ne!(a, b);
    assert_eq!(diff::changes(("a", &a), ("b", &b)).unwrap(), []);
    let c = a.replace("length = \"14 ft\"", "length = \"16 ft\"").replace("elbows = 1\n", "");
    let changes = diff::changes(("a", &a), ("c", &c)).unwrap();
    let paths: Vec<&str> = changes.iter().map(|change| change.at.as_str()).collect();
    assert_eq!(paths, ["run.guest-branch.length", "run.main-branch.elbows"]);
    assert_eq!((changes[1].old.as_deref(), changes[1].new.as_deref()), (Some("1"), None));
}

/// Splits a file into its head and its [[element]] sections, so that they can be put in another order.
mod sections {
    pub(super) type Sections = Vec<String>;

    pub(super) fn split(text: &str) -> Sections {
        let mut sections: Sections = vec![String::new()];
        for line in text.lines() {
            // A part stays with its run.
            let starts = line.starts_with('[') && !line.starts_with("[[run.");
            if starts {
                sections.push(String::new());
            }
            let last = sections.last_mut().unwrap();
            last.push_str(line);
            last.push('\n');
        }
        // The head has to stay on top: it is put last here, since the list is turned round.
        let head = sections.remove(0);
        let mut turned = sections;
        turned.push(head);
        turned
    }
}

/// The English catalogue of help, as it follows from what the keys are declared with.
fn help() -> String {
    let mut page = String::from(
        "# What each table and key of a job file means: made from the declarations in crates/job/src/model by\n\
         # DEWPATH_WRITE=1 cargo nextest run -p dewpath-job --test examples. Do not edit.\n",
    );
    for mut form in dewpath_job::outline::forms() {
        page.push('\n');
        page.extend(form.help_mut().into_iter().map(|(id, doc)| format!("{id} = {doc}\n")));
    }
    page
}

#[test]
fn the_catalogue_of_help_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../words/catalogue/en/help.txt");
    if std::env::var_os("DEWPATH_WRITE").is_some() {
        std::fs::write(&path, help()).unwrap();
    }
    assert!(std::fs::read_to_string(&path).unwrap() == help(), "help.txt is out of date");
}

#[test]
fn help_is_told_in_the_language_asked_for_and_else_as_it_is_declared() {
    let spanish = Catalogue::built_in("es").unwrap();
    let told = |id: &str| spanish.text(id).map(str::to_owned);
    let forms = || dewpath_job::outline::forms().into_iter();
    let length = |form: Form| form.fields.into_iter().find(|field| field.key == "length").unwrap();
    let room = || forms().find(|form| form.table == "room").unwrap();
    assert_eq!(length(room().told(told)).doc, "Largo.");
    assert_eq!(length(room().told(|_| None)).doc, length(room()).doc);
    let english = Catalogue::english();
    for form in forms() {
        assert_eq!(form.clone().told(|id| english.text(id).map(str::to_owned)), form);
    }
}

#[test]
fn the_printed_reference_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/job-file.md");
    let page = dewpath_job::reference_page();
    if std::env::var_os("DEWPATH_WRITE").is_some() {
        std::fs::write(&path, &page).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap();
    assert!(
        written == page,
        "docs/job-file.md is out of date: print it again with `dewpath schema job --markdown`"
    );
}
