//! Where air may leave, how loud a fan may be, what must run it.

use dewpath_units::{Airflow, Duration, Humidity, Length, Loudness, Pressure, Ratio};

use crate::airflow::Operation;
use crate::answer::Answer;
use crate::book::Book;
use crate::words::{ControlKind, End};

/// A distance an outlet must keep, and what waives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// The distance.
    pub distance: Length,
    /// Not asked for if the outlet is at least so far above.
    pub waived_above: Option<Length>,
    /// Not asked for with a factory-built combination intake and exhaust fitting.
    pub waived_with_combination: bool,
}

/// What an outlet must keep away from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClearOf {
    /// Windows and doors that open, gravity intakes.
    Opening,
    /// Mechanical air intake.
    MechanicalIntake,
    /// Property line.
    PropertyLine,
}

/// What must run an intermittent bath fan.
#[derive(Clone, Debug, PartialEq)]
pub struct ControlRule {
    /// One of these; nothing else counts.
    pub one_of: Vec<ControlKind>,
    /// Longest off-delay among the choices of a timer or sensor.
    pub off_delay_most: Option<Duration>,
    /// A humidity control must be adjustable somewhere from here ...
    pub humidity_low: Option<Humidity>,
    /// ... to here.
    pub humidity_high: Option<Humidity>,
    /// Whether fans that are part of a whole-house system are exempt.
    pub exempt_whole_house: bool,
}

impl Book {
    /// Places where a duct may not end.
    pub fn forbidden_ends(&self) -> Answer<Vec<End>> {
        self.members("terminal.forbidden_ends", End::from_word)
    }

    /// Whether a duct may end there. `false` where the book forbids it or asks for outdoors; books do
    /// not list what is allowed, so that anything else is not in the book.
    pub fn end_allowed(&self, end: End) -> Answer<bool> {
        match self.forbidden_ends() {
            Answer::Known(ends) if ends.value.contains(&end) => Answer::Known(ends.with(false)),
            _ => match (self.must_end_outdoors(), end) {
                (
                    Answer::Known(outdoors),
                    End::Attic | End::CrawlSpace | End::Indoors | End::OtherDwelling,
                ) if outdoors.value => Answer::Known(outdoors.with(false)),
                _ => Answer::missing("terminal.forbidden_ends"),
            },
        }
    }

    /// Whether the exhaust must go outdoors.
    pub fn must_end_outdoors(&self) -> Answer<bool> {
        self.yes_no("terminal.outdoors")
    }

    /// Whether the air may be filtered and given back to the room.
    pub fn recirculation_allowed(&self) -> Answer<bool> {
        self.yes_no("terminal.recirculation")
    }

    /// Distance an outlet must keep.
    pub fn clearance(&self, from: ClearOf) -> Answer<Clearance> {
        let (distance, above, combination) = match from {
            ClearOf::Opening => {
                ("terminal.to_opening", Some("terminal.opening_waived_above"), None)
            }
            ClearOf::MechanicalIntake => (
                "terminal.to_mechanical_intake",
                Some("terminal.intake_waived_above"),
                Some("terminal.intake_waived_combined"),
            ),
            ClearOf::PropertyLine => ("terminal.to_property_line", None, None),
        };
        let waived_above = above.and_then(|key| self.quantity(key).value().copied());
        let waived_with_combination =
            combination.is_some_and(|key| self.yes_no(key).value() == Some(&true));
        self.quantity(distance).map(|distance| Clearance {
            distance,
            waived_above,
            waived_with_combination,
        })
    }

    /// Whether exhaust may blow onto a walkway.
    pub fn onto_walkway_allowed(&self) -> Answer<bool> {
        self.yes_no("terminal.onto_walkway")
    }

    /// Where an outlet is in a soffit: distance within which soffit vents are closed or left out.
    pub fn soffit_vents_clear(&self) -> Answer<Length> {
        self.quantity("terminal.soffit_vents_clear")
    }

    /// Whether an outlet must sit above the snow.
    pub fn above_snow(&self) -> Answer<bool> {
        self.yes_no("terminal.above_snow")
    }

    /// Least height above grade.
    pub fn above_grade(&self) -> Answer<Length> {
        self.quantity("terminal.above_grade")
    }

    /// Least free area of a terminal as a share of the duct's area.
    pub fn terminal_free_area_share(&self) -> Answer<f64> {
        self.quantity::<Ratio>("terminal.free_area_share").map(Ratio::ratio)
    }

    /// Whether the hole in wall or roof must be flashed.
    pub fn flashing_required(&self) -> Answer<bool> {
        self.yes_no("terminal.flashed")
    }

    /// Least thickness of metal flashing on a roof.
    pub fn flashing_thickness(&self) -> Answer<Length> {
        self.quantity("terminal.flashing_thickness")
    }

    /// Loudest a fan may be rated.
    pub fn sound_limit(&self, operation: Operation) -> Answer<Loudness> {
        self.quantity(match operation {
            Operation::Intermittent => "sound.intermittent",
            Operation::Continuous => "sound.continuous",
        })
    }

    /// Least static pressure at which loudness is rated.
    pub fn sound_rating_pressure(&self) -> Answer<Pressure> {
        self.quantity("sound.rated_at")
    }

    /// Rated airflow from which the sound limit no longer holds.
    pub fn sound_exempt_from(&self) -> Answer<Airflow> {
        self.quantity("sound.exempt_from")
    }

    /// Length of duct between grille and a remote fan from which the sound limit no longer holds.
    pub fn sound_exempt_remote_duct(&self) -> Answer<Length> {
        self.quantity("sound.exempt_remote_duct")
    }

    /// What must run an intermittent bath fan.
    pub fn controls_required(&self) -> Answer<ControlRule> {
        let off_delay_most = self.quantity("control.off_delay_most").value().copied();
        let humidity_low = self.quantity("control.humidity_low").value().copied();
        let humidity_high = self.quantity("control.humidity_high").value().copied();
        let exempt_whole_house = self.yes_no("control.exempt_whole_house").value() == Some(&true);
        self.members("control.intermittent_bath", ControlKind::from_word).map(|one_of| {
            ControlRule { one_of, off_delay_most, humidity_low, humidity_high, exempt_whole_house }
        })
    }

    /// What must run the fan of a room without a window; one of these.
    pub fn windowless_controls(&self) -> Answer<Vec<ControlKind>> {
        self.members("control.windowless", ControlKind::from_word)
    }

    /// How long a fan runs on after use. `has_window`: `None` if not known, which finds no more than
    /// what holds for every room.
    pub fn run_on(&self, has_window: Option<bool>) -> Answer<Duration> {
        match (has_window, self.quantity("control.windowless_run_on")) {
            (Some(false), Answer::Known(ruled)) => Answer::Known(ruled),
            _ => self.quantity("control.run_on"),
        }
    }

    /// Whether the switch must be labelled.
    pub fn switch_labelled(&self) -> Answer<bool> {
        self.yes_no("control.switch_labelled")
    }
}
