//! The room through a design shower, as the report tells it.

use crate::common::report;
use dewpath_report::{Report, Verdict};

/// A bathroom with a fan that holds its flow, of which everything that matters is written.
fn bath(outdoor: &str, fan: &str, more: &str) -> String {
    format!(
        "format = 1\nname = \"bath\"\nrule_book = \"us-irc-2021\"\n\
         [site]\nindoor = \"70 F\"\noutdoor = \"{outdoor}\"\n[dwelling]\nhumidity = \"45 %\"\n\
         [[room]]\nid = \"bath\"\nkind = \"bathroom\"\nlength = \"8 ft\"\nwidth = \"5 ft\"\nheight = \"8 ft\"\n\
         fixtures = {{ showers = 1, toilets = 1 }}\nuse = {{ minutes = \"10 min\"{more} }}\n\
         [[fan]]\nid = \"fan\"\nroom = \"bath\"\nrated = \"{fan} at 0.25 inWC\"\nholds_flow = \"{fan}\"\n\
         curve = [\"200 cfm at 0 Pa\", \"150 cfm at 600 Pa\", \"0 cfm at 1000 Pa\"]\n\
         [[run]]\nfrom = \"fan\"\nto = \"cap\"\nduct = \"smooth metal\"\nsize = \"6 in\"\nlength = \"6 ft\"\nelbows = 0\n\
         [[terminal]]\nid = \"cap\"\nkind = \"wall cap\"\n"
    )
}

fn clears(report: &Report) -> (f64, f64) {
    let clearing = report.rooms[0].clearing.as_ref().expect("the room is followed");
    assert!(clearing.water_residual_ratio < 1e-9 && clearing.energy_residual_ratio < 1e-9);
    (clearing.mirror_time_s.likely, clearing.back_to_normal_time_s.likely)
}

/// Outdoor air in winter is drier than the room: with the fan held on, more of it never clears later.
#[test]
fn more_air_never_clears_later() {
    let habit = ", fan = \"during and after\", leave_on = \"4 h\"";
    let mut before = (f64::INFINITY, f64::INFINITY);
    for flow in ["20 cfm", "40 cfm", "80 cfm", "120 cfm"] {
        let now = clears(&report(&bath("20 F", flow, habit), 0));
        assert!(
            now.0 <= before.0 + 1.0 && now.1 <= before.1 + 1.0,
            "{flow}: {now:?} after {before:?}"
        );
        before = now;
    }
}

/// Monotone in the source: a shower that gives off more leaves no drier room.
#[test]
fn more_vapour_never_clears_sooner() {
    let mut before = (0.0, 0.0);
    for rate in ["1 kg/h", "2 kg/h", "3 kg/h"] {
        let habit =
            format!(", vapour = \"{rate}\", fan = \"during and after\", leave_on = \"4 h\"");
        let now = clears(&report(&bath("20 F", "50 cfm", &habit), 0));
        assert!(
            now.0 >= before.0 - 1.0 && now.1 >= before.1 - 1.0,
            "{rate}: {now:?} after {before:?}"
        );
        before = now;
    }
}

/// A heater warms the air while somebody showers: warmer air of the same water is relatively drier, and fogs no mirror for longer.
#[test]
fn a_heater_never_makes_the_room_damper() {
    let mut before = (1.1, f64::INFINITY);
    for heater in ["0 W", "500 W", "1000 W", "2000 W"] {
        let text =
            bath("20 F", "50 cfm", "").replace("use =", &format!("heater = \"{heater}\"\nuse ="));
        let report = report(&text, 0);
        let peak = report.rooms[0].clearing.as_ref().unwrap().peak_humidity_ratio.likely;
        let (mirror, _) = clears(&report);
        assert!(
            peak < before.0 + 1e-9 && mirror <= before.1 + 1.0,
            "{heater}: {peak}, {mirror} s after {before:?}"
        );
        before = (peak, mirror);
    }
    let without = report(&bath("20 F", "50 cfm", ""), 0);
    let without = without.rooms[0].clearing.as_ref().unwrap().peak_humidity_ratio.likely;
    assert!(before.0 < without - 0.01, "2 kW count: {} after {without}", before.0);
}

/// Whoever writes that nobody showers gets no shower judged; who does not write the size hears what is missing.
#[test]
fn no_shower_and_no_size() {
    let nobody = report(&bath("20 F", "50 cfm", ", showers = 0"), 0);
    assert!(nobody.rooms[0].clearing.is_none());
    assert!(!nobody.findings.iter().any(|f| f.id.as_str().starts_with("room.clearing")));
    let text = bath("20 F", "50 cfm", "").replace("length = \"8 ft\"\nwidth", "width");
    let sizeless = report(&text, 0);
    let found =
        sizeless.findings.iter().find(|f| f.id == "room.clearing.mirror").expect("it is said");
    assert_eq!(found.verdict, Verdict::Unknown);
}

/// Deep cold, humid heat, a fan without air: numbers, never "not a number".
#[test]
fn any_weather_gives_numbers() {
    for outdoor in ["-40 C", "0 C", "45 C"] {
        for flow in ["0.5 cfm", "50 cfm"] {
            let report = report(&bath(outdoor, flow, ""), 8);
            let text = serde_json::to_string(&report.rooms).expect("it is written");
            assert!(
                !text.contains("null,\"likely\"") && !text.contains("\"likely\":null"),
                "{text}"
            );
            clears(&report);
        }
    }
}

/// A house of measured leakage is as humid as its people make it; 60 % on a frosty day takes more water than they give off.
#[test]
fn a_winter_humidity_that_no_household_keeps_up_is_told() {
    let of = |humidity: &str| {
        let text = bath("25 F", "80 cfm", "").replace("humidity = \"45 %\"", humidity);
        report(&text, 64)
    };
    let told = |report: &Report| report.findings.iter().any(|one| one.id == "dwelling.humidity");
    let leaky = "air_changes = \"9 ACH50\"\nvolume = \"350 m3\"\nhumidity =";
    assert!(told(&of(&format!("{leaky} \"60 %\""))));
    assert!(!told(&of(&format!("{leaky} \"30 %\""))));
    // Canadian homes stand at 25 to 30 % in winter: no caution, however leaky the house.
    assert!(!told(&of("air_changes = \"15 ACH50\"\nvolume = \"500 m3\"\nhumidity = \"30 %\"")));
    assert!(!told(&of("")), "what is worked out is not told");
}
