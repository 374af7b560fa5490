//! The closed list of questions a book may hold a value for, and the shape each value has.

use dewpath_message::Message;
use dewpath_message::slot::{Reference, Word};
use dewpath_units::{
    AirChange50, Airflow, Area, Duration, Humidity, Kind, Length, Loudness, Power, Pressure,
    Quantity, Ratio, ThermalResistance,
};

use crate::say::{self, Do, WriteKey};
use crate::words::{ControlKind, End, FireBlock, FlowMethod, Joined, Material, Seal, WayOut};

/// What a value must look like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    /// A quantity of one kind, as published: `"50 cfm"`.
    Quantity(Kind),
    /// Several quantities of one kind.
    Quantities(Kind),
    /// A flow for an area: `"1 cfm per ft2"`.
    AirflowPerArea,
    /// Air changes: `"8 per h"`.
    PerHour,
    /// Flow for electric power: `"2.8 cfm per W"`.
    Efficacy,
    /// A whole number.
    Count,
    /// `true` or `false`.
    YesNo,
    /// Words from a closed list.
    Words(&'static [&'static str]),
    /// A thermal resistance, or `"none"` where the book was read and asks for none.
    Insulation,
}

impl Shape {
    /// How to write one, for error hints.
    pub(crate) fn example(self) -> Message {
        match self {
            Self::Quantity(kind) => {
                let example = Reference::new(kind.example());
                say::WriteQuantity { kind: called(kind), example }.into()
            }
            Self::Quantities(kind) => {
                WriteKey::ListSuchAs.line(format!("[\"{}\"]", kind.example())).into()
            }
            Self::AirflowPerArea => WriteKey::SuchAs.line("\"1 cfm per ft2\"").into(),
            Self::PerHour => WriteKey::SuchAs.line("\"8 per h\"").into(),
            Self::Efficacy => WriteKey::SuchAs.line("\"2.8 cfm per W\"").into(),
            Self::Count => Do::WriteCount.into(),
            Self::YesNo => Do::WriteYesNo.into(),
            Self::Words(words) => say::NamesKey::Words.of(words).into(),
            Self::Insulation => Do::WriteInsulation.into(),
        }
    }

    /// Reads the text of a single value; the number is in SI.
    pub(crate) fn read(self, text: &str) -> Option<f64> {
        match self {
            Self::Quantity(kind) | Self::Quantities(kind) => quantity(kind, text),
            Self::AirflowPerArea => ratio(Kind::Airflow, Kind::Area, text),
            Self::Efficacy => ratio(Kind::Airflow, Kind::Power, text),
            Self::PerHour => {
                let number: f64 = text.strip_suffix(" per h")?.trim().parse().ok()?;
                (number.is_finite() && number >= 0.0).then_some(number / 3600.0)
            }
            Self::Insulation => quantity(Kind::ThermalResistance, text),
            Self::Count | Self::YesNo | Self::Words(_) => None,
        }
    }
}

/// A kind of quantity with its article, such as `an airflow`.
pub(crate) fn called(kind: Kind) -> Word {
    Word::new(format!("kind.{}", kind.name().replace(' ', "-")))
}

fn ratio(above: Kind, below: Kind, text: &str) -> Option<f64> {
    let (flow, of) = text.split_once(" per ")?;
    let of = if of.starts_with(|c: char| c.is_ascii_digit()) {
        of.to_owned()
    } else {
        format!("1 {of}")
    };
    let below = quantity(below, &of)?;
    (below > 0.0).then_some(quantity(above, flow)? / below)
}

pub(crate) fn quantity(kind: Kind, text: &str) -> Option<f64> {
    fn si<Q: Quantity>(text: &str) -> Option<f64> {
        Q::parse(text).ok().map(Quantity::si)
    }
    match kind {
        Kind::AirChange50 => si::<AirChange50>(text),
        Kind::Airflow => si::<Airflow>(text),
        Kind::Area => si::<Area>(text),
        Kind::Duration => si::<Duration>(text),
        Kind::Humidity => si::<Humidity>(text),
        Kind::Length => si::<Length>(text),
        Kind::Loudness => si::<Loudness>(text),
        Kind::Power => si::<Power>(text),
        Kind::Pressure => si::<Pressure>(text),
        Kind::Ratio => si::<Ratio>(text),
        Kind::ThermalResistance => si::<ThermalResistance>(text),
        _ => None,
    }
}

const AIRFLOW: Shape = Shape::Quantity(Kind::Airflow);
const AREA: Shape = Shape::Quantity(Kind::Area);
const DURATION: Shape = Shape::Quantity(Kind::Duration);
const HUMIDITY: Shape = Shape::Quantity(Kind::Humidity);
const LENGTH: Shape = Shape::Quantity(Kind::Length);
const LOUDNESS: Shape = Shape::Quantity(Kind::Loudness);
const PRESSURE: Shape = Shape::Quantity(Kind::Pressure);
const RATIO: Shape = Shape::Quantity(Kind::Ratio);

/// Rooms a rate can be given for.
pub(crate) const ROOMS: [&str; 5] =
    ["bathroom", "toilet_room", "kitchen", "laundry", "steam_shower"];

/// What can be said of the airflow of each room; the key is `airflow.ROOM.WHAT`.
const ROOM_KEYS: [(&str, Shape); 20] = [
    ("intermittent", AIRFLOW),
    ("intermittent_hood", AIRFLOW),
    ("intermittent_hood_electric", AIRFLOW),
    ("intermittent_hood_combustion", AIRFLOW),
    ("intermittent_other", AIRFLOW),
    ("continuous", AIRFLOW),
    ("either", AIRFLOW),
    ("either_electric", AIRFLOW),
    ("either_combustion", AIRFLOW),
    ("per_area", Shape::AirflowPerArea),
    ("area_limit", AREA),
    ("least", AIRFLOW),
    ("per_toilet", AIRFLOW),
    ("per_shower", AIRFLOW),
    ("per_tub", AIRFLOW),
    ("per_jetted_tub", AIRFLOW),
    ("air_changes", Shape::PerHour),
    ("enclosed_air_changes_intermittent", Shape::PerHour),
    ("enclosed_air_changes_continuous", Shape::PerHour),
    ("own_point", Shape::YesNo),
];

/// Every other key, in the order of the documentation.
const KEYS: [(&str, Shape); 203] = [
    ("rating.pressure", PRESSURE),
    ("rating.listed", Shape::YesNo),
    ("rating.buy_for_intermittent", AIRFLOW),
    ("rating.buy_for_continuous", AIRFLOW),
    ("window.glazed_area", AREA),
    ("window.openable_share", RATIO),
    ("window.toilet_room_only", Shape::YesNo),
    ("dwelling.required", Shape::YesNo),
    ("dwelling.required_up_to", Shape::Quantity(Kind::AirChange50)),
    ("dwelling.per_area", Shape::AirflowPerArea),
    ("dwelling.per_bedroom", AIRFLOW),
    ("dwelling.bedrooms_added", Shape::Count),
    ("dwelling.least_per_area", Shape::AirflowPerArea),
    ("dwelling.least_by_bedrooms", Shape::Quantities(Kind::Airflow)),
    ("dwelling.most_by_bedrooms", Shape::Quantities(Kind::Airflow)),
    ("dwelling.each_more_bedroom", AIRFLOW),
    ("dwelling.per_room", AIRFLOW),
    ("dwelling.per_principal_room", AIRFLOW),
    ("dwelling.above_least", RATIO),
    ("dwelling.balanced_credit", RATIO),
    ("dwelling.infiltration_credit_most", RATIO),
    ("dwelling.existing_deficit_share", RATIO),
    ("dwelling.existing_window_credit", AIRFLOW),
    ("duct.ways_out", Shape::Words(WayOut::WORDS)),
    ("duct.longest_run", LENGTH),
    ("duct.not_smaller_than_outlet", Shape::YesNo),
    ("duct.straight_at_fan", LENGTH),
    ("duct.falls_outward", Shape::YesNo),
    ("duct.fall", RATIO),
    ("duct.materials", Shape::Words(Material::WORDS)),
    ("duct.smooth_inside", Shape::YesNo),
    ("duct.metal_thickness", LENGTH),
    ("duct.metal_gauge", Shape::Count),
    ("duct.garage_thickness", LENGTH),
    ("duct.garage_gauge", Shape::Count),
    ("duct.garage_openings", Shape::YesNo),
    ("duct.metal_support_spacing", LENGTH),
    ("duct.flex_support_spacing", LENGTH),
    ("duct.flex_sag", RATIO),
    ("duct.strap_width", LENGTH),
    ("duct.bend_radius_diameters", RATIO),
    ("duct.flex_bends", Shape::Count),
    ("duct.flex_bends_above", Shape::Count),
    ("duct.flex_bends_threshold", AIRFLOW),
    ("duct.joints_fastened", Shape::YesNo),
    ("duct.joint_screws", Shape::Count),
    ("duct.crimp_lap", LENGTH),
    ("duct.seals", Shape::Words(Seal::WORDS)),
    ("duct.screen_opening_least", LENGTH),
    ("duct.screen_opening_most", LENGTH),
    ("duct.damper", Shape::YesNo),
    ("duct.cavity_as_duct", Shape::YesNo),
    ("duct.insulation_unheated", Shape::Insulation),
    ("duct.insulation_thickness", LENGTH),
    ("duct.trap_low_point", Shape::YesNo),
    ("joining.never_with", Shape::Words(Joined::WORDS)),
    ("joining.shared_riser", Shape::YesNo),
    ("joining.townhouse_wall", Shape::YesNo),
    ("terminal.outdoors", Shape::YesNo),
    ("terminal.forbidden_ends", Shape::Words(End::WORDS)),
    ("terminal.recirculation", Shape::YesNo),
    ("terminal.to_opening", LENGTH),
    ("terminal.opening_waived_above", LENGTH),
    ("terminal.to_mechanical_intake", LENGTH),
    ("terminal.intake_waived_above", LENGTH),
    ("terminal.intake_waived_combined", Shape::YesNo),
    ("terminal.to_property_line", LENGTH),
    ("terminal.onto_walkway", Shape::YesNo),
    ("terminal.soffit_vents_clear", LENGTH),
    ("terminal.above_snow", Shape::YesNo),
    ("terminal.above_grade", LENGTH),
    ("terminal.free_area_share", RATIO),
    ("terminal.flashed", Shape::YesNo),
    ("terminal.flashing_thickness", LENGTH),
    ("sound.intermittent", LOUDNESS),
    ("sound.continuous", LOUDNESS),
    ("sound.rated_at", PRESSURE),
    ("sound.exempt_from", AIRFLOW),
    ("sound.exempt_remote_duct", LENGTH),
    ("control.intermittent_bath", Shape::Words(ControlKind::WORDS)),
    ("control.off_delay_most", DURATION),
    ("control.humidity_low", HUMIDITY),
    ("control.humidity_high", HUMIDITY),
    ("control.exempt_whole_house", Shape::YesNo),
    ("control.run_on", DURATION),
    ("control.windowless", Shape::Words(ControlKind::WORDS)),
    ("control.windowless_run_on", DURATION),
    ("control.switch_labelled", Shape::YesNo),
    ("make_up.above", AIRFLOW),
    ("make_up.only_with_open_draft", Shape::YesNo),
    ("make_up.any_interference", Shape::YesNo),
    ("make_up.damper_pressure", PRESSURE),
    ("make_up.dryer_above", AIRFLOW),
    ("make_up.spillage_prone", Shape::YesNo),
    ("house_pressure.natural_water_heater", PRESSURE),
    ("house_pressure.natural_shared_vent", PRESSURE),
    ("house_pressure.natural_or_induced_heater", PRESSURE),
    ("house_pressure.power_vented", PRESSURE),
    ("house_pressure.sealed", PRESSURE),
    ("house_pressure.spillage_prone", PRESSURE),
    ("house_pressure.other", PRESSURE),
    ("transfer.free_area", AREA),
    ("transfer.door_gap", LENGTH),
    ("transfer.door_gap_unfinished", LENGTH),
    ("transfer.by_door_gap", Shape::YesNo),
    ("verify.local_measured", Shape::YesNo),
    ("verify.local_exempt_rated_at", PRESSURE),
    ("verify.mechanical_measured", Shape::YesNo),
    ("verify.methods", Shape::Words(FlowMethod::WORDS)),
    ("verify.hood_exempt_diameter", LENGTH),
    ("verify.hood_exempt_length", LENGTH),
    ("verify.hood_exempt_elbows", Shape::Count),
    ("verify.design_tolerance", RATIO),
    ("verify.run_on_checked", Shape::YesNo),
    ("efficacy.exhaust_small", Shape::Efficacy),
    ("efficacy.exhaust_medium", Shape::Efficacy),
    ("efficacy.exhaust_large", Shape::Efficacy),
    ("efficacy.medium_from", AIRFLOW),
    ("efficacy.large_from", AIRFLOW),
    ("efficacy.in_line", Shape::Efficacy),
    ("efficacy.range_hood", Shape::Efficacy),
    ("efficacy.heat_recovery", Shape::Efficacy),
    ("efficacy.air_handler", Shape::Efficacy),
    ("efficacy.exhaust_rated_at", PRESSURE),
    ("efficacy.in_line_rated_at", PRESSURE),
    ("dryer.longest_run", LENGTH),
    ("dryer.elbow_45_mitred_4in", LENGTH),
    ("dryer.elbow_90_mitred_4in", LENGTH),
    ("dryer.elbow_45_smooth_6in", LENGTH),
    ("dryer.elbow_90_smooth_6in", LENGTH),
    ("dryer.elbow_45_smooth_8in", LENGTH),
    ("dryer.elbow_90_smooth_8in", LENGTH),
    ("dryer.elbow_45_smooth_10in", LENGTH),
    ("dryer.elbow_90_smooth_10in", LENGTH),
    ("dryer.diameter", LENGTH),
    ("dryer.metal_thickness", LENGTH),
    ("dryer.support_spacing", LENGTH),
    ("dryer.fastener_intrusion", LENGTH),
    ("dryer.transition_longest", LENGTH),
    ("dryer.outlet_open_area", AREA),
    ("dryer.screen", Shape::YesNo),
    ("dryer.own_duct", Shape::YesNo),
    ("dryer.to_opening", LENGTH),
    ("dryer.booster_fan", Shape::YesNo),
    ("dryer.label_above", LENGTH),
    ("dryer.shield_within", LENGTH),
    ("dryer.shield_thickness", LENGTH),
    ("dryer.shield_past", LENGTH),
    ("hood.own_duct", Shape::YesNo),
    ("hood.materials", Shape::Words(Material::WORDS)),
    ("joist.hole_share", RATIO),
    ("joist.hole_to_edge", LENGTH),
    ("joist.hole_to_next", LENGTH),
    ("joist.notch_share", RATIO),
    ("joist.notch_length_share", RATIO),
    ("joist.notch_in_middle_third", Shape::YesNo),
    ("joist.end_notch_share", RATIO),
    ("joist.notch_top_only", Shape::YesNo),
    ("joist.notch_from_bearing_share", RATIO),
    ("joist.tension_notch_below", LENGTH),
    ("stud.hole_share_bearing", RATIO),
    ("stud.hole_share_doubled", RATIO),
    ("stud.doubled_in_succession", Shape::Count),
    ("stud.hole_share_other", RATIO),
    ("stud.notch_share_bearing", RATIO),
    ("stud.notch_share_other", RATIO),
    ("stud.hole_to_edge", LENGTH),
    ("stud.hole_at_notch", Shape::YesNo),
    ("stud.left_share_bearing", RATIO),
    ("stud.left_other", LENGTH),
    ("stud.reinforced_past", LENGTH),
    ("stud.reinforced_by", LENGTH),
    ("plate.tie_above_share", RATIO),
    ("plate.left", LENGTH),
    ("plate.tie_thickness", LENGTH),
    ("plate.tie_gauge", Shape::Count),
    ("plate.tie_width", LENGTH),
    ("plate.tie_past", LENGTH),
    ("plate.nails_each_side", Shape::Count),
    ("plate.nail_diameter", LENGTH),
    ("plate.nail_length", LENGTH),
    ("plate.waived_by_panel", Shape::YesNo),
    ("member.truss_by_designer", Shape::YesNo),
    ("member.engineered_by_chart", Shape::YesNo),
    ("member.single_header_most", LENGTH),
    ("member.end_restraint_restored", Shape::YesNo),
    ("shield.within", LENGTH),
    ("shield.thickness", LENGTH),
    ("shield.past", LENGTH),
    ("fire.annular_blocked", Shape::YesNo),
    ("fire.blocking", Shape::Words(FireBlock::WORDS)),
    ("fire.blocking_every", LENGTH),
    ("fire.draft_stop_above", AREA),
    ("fire.dwelling_separation", DURATION),
    ("fire.dwelling_separation_sprinklered", DURATION),
    ("fire.tested_penetration", Shape::YesNo),
    ("fire.test_pressure", PRESSURE),
    ("permit.mechanical", Shape::YesNo),
    ("permit.electrical", Shape::YesNo),
    ("permit.alarms_exempt_mechanical_only", Shape::YesNo),
    ("permit.instructions_left", Shape::YesNo),
    ("permit.airflow_posted", Shape::YesNo),
    ("permit.completion_notice", Shape::YesNo),
];

/// The shape of the value at a key; `None` for a key that no book may hold.
pub(crate) fn shape(key: &str) -> Option<Shape> {
    if let Some(rest) = key.strip_prefix("airflow.") {
        let (room, what) = rest.split_once('.')?;
        let (_, shape) = ROOM_KEYS.iter().find(|(name, _)| *name == what)?;
        return ROOMS.contains(&room).then_some(*shape);
    }
    KEYS.iter().find(|(name, _)| *name == key).map(|(_, shape)| *shape)
}

/// Whether keys stand under this topic, such as `sound` or `airflow.bathroom`.
pub(crate) fn is_topic(path: &str) -> bool {
    let under = |key: &str| key.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'));
    match path.strip_prefix("airflow.") {
        Some(room) => ROOMS.contains(&room),
        None => path == "airflow" || KEYS.iter().any(|(key, _)| under(key)),
    }
}

/// Every key a book may hold, in the order of the documentation.
pub(crate) fn all() -> impl Iterator<Item = String> {
    let rooms = ROOMS
        .iter()
        .flat_map(|room| ROOM_KEYS.iter().map(move |(what, _)| format!("airflow.{room}.{what}")));
    let others = KEYS.iter().map(|(key, _)| *key);
    rooms.chain(others.map(str::to_owned))
}

/// The key that looks most like a mistyped one.
pub(crate) fn nearest(key: &str) -> Option<String> {
    let scored = all().map(|known| (strsim::normalized_damerau_levenshtein(key, &known), known));
    let best = scored.max_by(|a, b| a.0.total_cmp(&b.0))?;
    (best.0 > 0.5).then_some(best.1)
}
