//! How humid a heated dwelling is on the design day: where nobody wrote it, what its people give off over what its leaks and
//! its ventilation carry away; as far as the leaks are known.

use dewpath_air::leakage::Envelope;
use dewpath_case::given;
use dewpath_case::inputs::{Draw, Fallback, Inputs};
use dewpath_case::system::instance::{LEAK_EXPONENT, leak_flow_50};
use dewpath_case::system::spec::Spec;
use dewpath_job::model::Job;
use dewpath_message::Citation;
use dewpath_moisture::saturation::Saturation;
use dewpath_report::Source;
use dewpath_report::say::{Judgement, SourceText};
use dewpath_units::Leakage50;

use super::fresh_air::{DESIGN_WIND_M_S, infiltration_m3_s, storeys, ventilation};

/// What the air of a dwelling carries beyond that outdoors on a cold day, g/m³: low, half of all, high. Source: 101 detached
/// houses in the north of Europe, a tenth of which stood above 4 g/m³ below 5 °C, and Canadian homes at 25 to 30 % in winter
/// (both read); the rest is judgement.
const SUPPLY_G_M3: [f64; 3] = [1.0, 2.4, 4.5];
/// Beyond these people air, or nobody lives there, g/m³. Source: humidity classes of dwellings in ISO 13788, whose third ends
/// at 6 g/m³ (from memory).
pub(super) const SUPPLY_WITHIN_G_M3: (f64, f64) = (0.5, 6.0);
/// It fades while windows open: full to the first outdoor temperature, none above the second, °C. Source: the shape of
/// ISO 13788 (from memory).
const FADES_C: (f64, f64) = (5.0, 20.0);
/// At this windows open, or a coil dries. Judgement.
const AIRED_AT: f64 = 0.65;
const SECONDS_A_DAY: f64 = 86_400.0;

/// Conditions of the design day at the likely values.
pub(super) struct Cold {
    pub house_c: f64,
    pub outdoor_c: f64,
    pub outdoor_rh: f64,
}

/// Relative humidity of the dwelling where nobody wrote it, from outdoors, people and leaks.
pub(super) fn humidity(
    job: &Job,
    cold: &Cold,
    leak: &Spec,
    moisture: &Fallback,
    inputs: &Inputs,
) -> Fallback {
    let table = Saturation::shared();
    let full = vapour_g_m3(table.pressure_pa(cold.house_c), cold.house_c);
    let outdoors = cold.outdoor_rh * vapour_g_m3(table.pressure_pa(cold.outdoor_c), cold.outdoor_c);
    let (from, to) = FADES_C;
    let shut = ((to - cold.outdoor_c) / (to - from)).clamp(0.0, 1.0);
    let at = |supply: f64| ((outdoors + shut * supply) / full).clamp(0.05, AIRED_AT);
    let own = carried_away_m3_day(job, cold, leak, inputs).map(|air| {
        let likely = f64::midpoint(moisture.low, moisture.high);
        let (low, high) = SUPPLY_WITHIN_G_M3;
        [moisture.low, likely, moisture.high].map(|kg| (1000.0 * kg / air).clamp(low, high))
    });
    let source = match own {
        Some(_) => Source::memory(Citation("ISO 13788"), SourceText::PeopleOverLeaks),
        None => Source::judgement(Judgement::MoistureSupply),
    };
    let [low, likely, high] = own.unwrap_or(SUPPLY_G_M3).map(at);
    Fallback::about(low, likely, high, source)
}

/// Vapour of that pressure in air, g/m³.
fn vapour_g_m3(pressure_pa: f64, t_c: f64) -> f64 {
    const VAPOUR_GAS_CONSTANT: f64 = 461.5;
    1000.0 * pressure_pa / (VAPOUR_GAS_CONSTANT * (t_c + 273.15))
}

/// Outdoor air that a dwelling of measured leakage takes in on the design day, m³ a day.
fn carried_away_m3_day(job: &Job, cold: &Cold, leak: &Spec, inputs: &Inputs) -> Option<f64> {
    let dwelling = &job.dwelling;
    if !(given::is_known(&dwelling.air_changes) || given::is_known(&dwelling.leakage)) {
        return None;
    }
    let flow_50 = leak_flow_50(leak, inputs, Draw::Likely)?;
    let envelope = Envelope::from_leakage50(Leakage50::from_m3_s(flow_50), LEAK_EXPONENT).ok();
    let difference = (cold.house_c - cold.outdoor_c).abs();
    let leaks = infiltration_m3_s(envelope.as_ref(), storeys(job), difference, DESIGN_WIND_M_S);
    let air = ventilation(job).with_leaks_m3_s(leaks);
    (air > 0.0).then_some(air * SECONDS_A_DAY)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn usual(outdoor_c: f64) -> Fallback {
        let job = dewpath_job::read("x.toml", "format = 1\nshow = \"metric\"\n").unwrap().job;
        let mut inputs = Inputs::new(0);
        let leak = dewpath_case::system::leak(&job, &mut inputs);
        let moisture = Fallback::even(4.8, 9.0, Source::practice());
        let cold = Cold { house_c: 21.0, outdoor_c, outdoor_rh: 0.85 };
        humidity(&job, &cold, &leak, &moisture, &inputs)
    }

    #[test]
    fn houses_in_the_cold_are_as_dry_as_was_measured() {
        // Canadian homes in winter stand at 25 to 30 % (Kent, Handegord and Robson, ASHRAE Transactions 72): inside the band.
        let cold = usual(-10.0);
        assert!(cold.low < 0.25 && cold.high > 0.30, "{cold:?}");
        // A tenth of 101 detached houses stood above 4 g/m³: 36 % at -4 °C. The band ends above that, its middle below.
        let mild = usual(-4.0);
        assert!(mild.likely.unwrap() < 0.36 && mild.high > 0.36, "{mild:?}");
        assert!(usual(-20.0).high < mild.low + 0.15 && usual(-20.0).low >= 0.05);
        // In warm air windows are open.
        assert!(usual(30.0).high <= AIRED_AT + 1e-12);
    }

    #[test]
    fn vapour_of_saturated_air_against_printed_density() {
        // Saturated vapour at 20 °C: 17.3 g/m³ (steam tables: 1/57.76 m³/kg).
        let at_20 = vapour_g_m3(Saturation::shared().pressure_pa(20.0), 20.0);
        assert!((at_20 - 17.31).abs() < 0.05, "{at_20}");
    }
}
