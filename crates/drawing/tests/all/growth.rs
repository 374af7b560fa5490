//! The chart of `docs/performance.md` is the one that its table gives.
#![allow(clippy::unwrap_used, reason = "tests")]

#[path = "../../examples/growth.rs"]
mod chart;

fn doc(name: &str) -> String {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/");
    std::fs::read_to_string(format!("{root}{name}")).unwrap()
}

#[test]
fn the_chart_of_growth_is_drawn_from_its_table() {
    let all = chart::read(&doc("growth.csv")).unwrap();
    assert!(all.len() >= 10 && all.iter().all(|m| m.area_m2 > 0.0 && m.ms > 0.0));
    let drawn = chart::draw(&all);
    assert!(
        drawn == doc("growth.svg"),
        "draw it again: cargo run -p dewpath-drawing --example growth draw"
    );
    // Another measurement gives another picture.
    let mut slower = all;
    slower[3].ms *= 2.0;
    assert_ne!(drawn, chart::draw(&slower));
    assert!(chart::read("what,area_m2,ms\nways outdoors,much,1\n").is_err());
}
