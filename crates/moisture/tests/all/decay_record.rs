//! Events and decays in a long public record of a bathroom: channel 5 of the "Appliances Energy Prediction" data set,
//! L. Candanedo, V. Feldheim, D. Deramaix, Energy and Buildings 140 (2017) 81-97, UCI Machine Learning Repository,
//! DOI 10.24432/C5VC8G. The record is no part of the project and no other test needs it. To run this one, name an extract of it
//! with the columns time, T_bath_C, RH_bath_pct, T_house_C, RH_house_pct (mean of rooms 1, 2, 4) and p_Pa:
//! `DEWPATH_LOGGER_RECORD=file cargo nextest run -p dewpath-moisture --run-ignored all -E 'test(public_record)'`.

use dewpath_checkvalues::Tolerance::Absolute;
use dewpath_checkvalues::{check, relative};
use dewpath_moisture::decay::{Background, EventRule, Reading, Trace, log_linear, shower_peaks};
use dewpath_units::{Duration, Humidity, Pressure, Temperature};

/// Mean, least and greatest.
fn summary(values: impl Iterator<Item = f64> + Clone) -> [f64; 3] {
    let count = values.clone().count() as f64;
    let least = values.clone().fold(f64::INFINITY, f64::min);
    [values.clone().sum::<f64>() / count, least, values.fold(f64::NEG_INFINITY, f64::max)]
}

/// The value below which the share lies, between neighbours in proportion (Hyndman & Fan 1996, type 7, as numpy).
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = share * (sorted.len() - 1) as f64;
    let below = place as usize;
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + (place - below as f64) * (sorted[above] - sorted[below])
}

/// Counted and fitted with numpy, pandas and psychrolib by the same rules.
#[test]
#[ignore = "needs a public record that is no part of the project: see the head of this file"]
fn events_and_decays_of_a_public_record() {
    let path =
        std::env::var("DEWPATH_LOGGER_RECORD").expect("DEWPATH_LOGGER_RECORD names the record");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let names = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let column = |name: &str| -> Vec<f64> {
        let place = names.iter().position(|other| other == name).expect(name);
        rows.iter().map(|row| row[place].parse().unwrap()).collect()
    };
    let (bath_c, bath_rh) = (column("T_bath_C"), column("RH_bath_pct"));
    let (house_c, house_rh, pressure) =
        (column("T_house_C"), column("RH_house_pct"), column("p_Pa"));
    let times: Vec<Duration> =
        (0..rows.len()).map(|i| Duration::from_min(10.0 * i as f64)).collect();
    assert_eq!(rows.len(), 19735);

    let figures = check("DEC-10");
    let [temperature, humidity] = [&bath_c, &bath_rh].map(|column| summary(column.iter().copied()));
    for (index, got) in temperature.into_iter().chain(humidity[..2].iter().copied()).enumerate() {
        figures.part(index).holds(got);
    }
    figures
        .part(5)
        .within(Absolute(0.0005), "the extract is rounded to 0.001 %")
        .holds(humidity[2]);

    let humidity: Vec<Humidity> = bath_rh.iter().map(|rh| Humidity::from_percent(*rh)).collect();
    let peaks = shower_peaks(&times, &humidity, &EventRule::default()).unwrap();
    check("DEC-09").holds(peaks.len() as f64);
    // Two single events of the record whose rates the register holds.
    assert!(peaks.contains(&9591) && peaks.contains(&18025));

    let trace = |temperature: &[f64], rh: &[f64]| {
        let reading = |index: usize| Reading {
            time: times[index],
            temperature: Temperature::from_c(temperature[index]),
            humidity: Humidity::from_percent(rh[index]),
            pressure: Pressure::from_pa(pressure[index]),
        };
        Trace::from_readings(&(0..rows.len()).map(reading).collect::<Vec<_>>()).unwrap()
    };
    let bath = trace(&bath_c, &bath_rh);
    let house: Vec<f64> =
        trace(&house_c, &house_rh).points().iter().map(|point| point.humidity_ratio).collect();
    let fits = peaks.iter().filter_map(|peak| {
        let part = bath.part(*peak, Duration::from_min(120.0));
        let below = &house[*peak..*peak + part.points().len()];
        let fit = log_linear(&part, Background::Measured(below), 2e-4).ok()?;
        (fit.points >= 5).then_some(fit)
    });
    let fits: Vec<_> = fits.collect();
    let mut rates: Vec<f64> = fits.iter().map(|fit| fit.rate_per_h).collect();
    rates.sort_by(f64::total_cmp);
    let [low, median, high] = [0.1, 0.5, 0.9].map(|share| quantile(&rates, share));
    check("DEC-11").all_hold(&[fits.len() as f64, median, low, high]);
    let mut explained: Vec<f64> = fits.iter().map(|fit| fit.r_squared_ratio).collect();
    explained.sort_by(f64::total_cmp);
    relative("r2", quantile(&explained, 0.5), 0.949, 0.01);
}
