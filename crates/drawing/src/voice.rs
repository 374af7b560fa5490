//! Words and figures of drawings, in the reader's units.

use dewpath_report::{Figure, Message, Triple};
use dewpath_units::{Airflow, Length, Pressure, Quantity as _, Style, System};
use dewpath_words::Speaker;

/// Speaks the language and units of the drawings.
#[derive(Debug, Clone)]
pub struct Voice {
    speaker: Speaker,
}

impl Voice {
    /// The voice of a speaker.
    pub fn new(speaker: &Speaker) -> Self {
        Self { speaker: speaker.clone() }
    }

    /// Units.
    pub fn system(&self) -> System {
        self.speaker.system()
    }

    pub(crate) fn word(&self, key: &str) -> String {
        self.speaker.word(key)
    }

    pub(crate) fn say(&self, message: &Message) -> String {
        self.speaker.message(message)
    }

    pub(crate) fn figure(&self, figure: Figure) -> String {
        if !is_known(figure) {
            return self.word("unknown-value");
        }
        self.speaker.figure(figure)
    }

    pub(crate) fn likely(&self, figure: Figure) -> String {
        if !is_known(figure) {
            return self.word("unknown-value");
        }
        self.speaker.likely(figure)
    }

    /// A length as it is read off a tape.
    pub(crate) fn tape(&self, metres: f64) -> String {
        if !metres.is_finite() {
            return self.word("unknown-value");
        }
        let style = match self.system() {
            System::Us => Style::US,
            System::Metric => Style::METRIC,
        };
        Length::from_m(metres).print(&style)
    }

    /// The same in inches alone, where people say inches.
    pub(crate) fn small_tape(&self, metres: f64) -> String {
        if !metres.is_finite() {
            return self.word("unknown-value");
        }
        let style = match self.system() {
            System::Us => Style::US.inches_only(),
            System::Metric => Style::METRIC,
        };
        Length::from_m(metres).print(&style)
    }

    /// Pascals as numbers on an axis.
    pub(crate) fn pressure(&self, pa: f64) -> f64 {
        match self.system() {
            System::Us => Pressure::from_pa(pa).in_wc(),
            System::Metric => pa,
        }
    }

    pub(crate) fn pressure_unit(&self) -> String {
        self.speaker.unit(match self.system() {
            System::Us => "unit.in-wc",
            System::Metric => "unit.pa",
        })
    }

    /// Litres a second as numbers on an axis.
    pub(crate) fn airflow(&self, l_s: f64) -> f64 {
        match self.system() {
            System::Us => Airflow::from_l_s(l_s).cfm(),
            System::Metric => l_s,
        }
    }

    pub(crate) fn airflow_unit(&self) -> String {
        self.speaker.unit(match self.system() {
            System::Us => "unit.cfm",
            System::Metric => "unit.l-s",
        })
    }

    /// Grams of water as numbers on an axis.
    pub(crate) fn water(&self, grams: f64) -> f64 {
        match self.system() {
            System::Us => grams / GRAMS_PER_OUNCE,
            System::Metric => grams,
        }
    }

    pub(crate) fn water_unit(&self) -> String {
        self.speaker.unit(match self.system() {
            System::Us => "unit.oz",
            System::Metric => "unit.g",
        })
    }

    /// An amount of water; small ones to a hundredth of an ounce, since bars show them too.
    pub(crate) fn water_text(&self, grams: f64) -> String {
        let ounces = grams / GRAMS_PER_OUNCE;
        match self.system() {
            System::Us if ounces.abs() < 1.0 => format!("{ounces:.2} {}", self.water_unit()),
            _ => self.figure(Figure::MassG(Triple::exact(grams))),
        }
    }

    /// A pressure with its range.
    pub(crate) fn pressure_text(&self, pa: Triple) -> String {
        self.figure(Figure::PressurePa(pa))
    }
}

/// Grams in an avoirdupois ounce.
const GRAMS_PER_OUNCE: f64 = 28.349523125;

/// Whether a figure is a number throughout.
fn is_known(figure: Figure) -> bool {
    let t = figure.triple();
    t.low.is_finite() && t.likely.is_finite() && t.high.is_finite()
}
