//! The dwelling around the exhaust: make-up air, depressurisation, transfer air; and proof, efficacy,
//! permits.

use dewpath_units::{Airflow, Area, Length, Pressure, Ratio};

use crate::answer::{Answer, Ruled};
use crate::book::Book;
use crate::words::FlowMethod;

/// When make-up air is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MakeUpRule {
    /// An exhaust system able to move more than this.
    pub above: Airflow,
    /// Only with a fuel appliance inside that is neither direct-vent nor mechanical-draft.
    pub only_with_open_draft: bool,
    /// Most pressure at which a gravity damper for make-up air must pass its flow.
    pub damper_pressure: Option<Pressure>,
}

/// Appliances by how easily they spill, for limits of house depressurisation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Venting {
    /// Natural-draft gas water heater alone.
    NaturalWaterHeater,
    /// Natural-draft water heater on one vent with a boiler or furnace.
    NaturalSharedVent,
    /// Natural- or induced-draft boiler or furnace.
    NaturalOrInducedHeater,
    /// Power-vented.
    PowerVented,
    /// Sealed combustion.
    Sealed,
    /// Any that can spill.
    SpillageProne,
    /// Any that cannot.
    NotSpillageProne,
}

/// Air from the dwelling into the room.
#[derive(Clone, Debug, PartialEq)]
pub struct TransferRule {
    /// Least free area.
    pub free_area: Answer<Area>,
    /// Least gap under the door over the finished floor.
    pub door_gap: Answer<Length>,
    /// The same over a floor that still gets its finish.
    pub door_gap_unfinished: Answer<Length>,
    /// Whether a gap under the door is accepted for it.
    pub by_door_gap: Answer<bool>,
}

/// When airflow must be measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasureRule {
    /// Whether the airflow must be measured.
    pub required: bool,
    /// Not if the fan is rated at this pressure and the duct is from the prescriptive table.
    pub exempt_if_rated_at: Option<Pressure>,
}

/// Kitchen hoods whose airflow need not be measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoodExemption {
    /// With a duct of at least this diameter,
    pub diameter: Length,
    /// no longer than this, where the book says,
    pub length: Option<Length>,
    /// and no more elbows than this.
    pub elbows: u32,
}

/// Airflow for electric power.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Efficacy(f64);

impl Efficacy {
    /// Cubic feet per minute for each watt.
    pub fn cfm_per_w(self) -> f64 {
        Airflow::from_m3_s(self.0).cfm()
    }

    /// Litres per second for each watt.
    pub fn l_s_per_w(self) -> f64 {
        Airflow::from_m3_s(self.0).l_s()
    }
}

/// Whole-house fans, as efficacy tables tell them apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WholeHouseFan {
    /// Exhaust fan of this airflow.
    Exhaust(Airflow),
    /// In-line fan.
    InLine,
    /// Range hood.
    RangeHood,
    /// Heat or energy recovery, or other balanced.
    HeatRecovery,
    /// Air handler.
    AirHandler,
}

/// Short facts about permits and papers; `words` says them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PermitNote {
    /// Mechanical work is not exempt from a permit as an ordinary repair.
    MechanicalPermit,
    /// Electric wiring is not exempt from a permit as an ordinary repair.
    ElectricalPermit,
    /// Work that is only mechanical does not trigger alarms.
    AlarmsExemptMechanicalOnly,
    /// The operating instructions stay with the appliance.
    InstructionsLeft,
    /// The measured airflow is posted.
    AirflowPosted,
    /// Completion is notified.
    CompletionNotice,
}

impl PermitNote {
    const ALL: [(Self, &'static str); 6] = [
        (Self::MechanicalPermit, "permit.mechanical"),
        (Self::ElectricalPermit, "permit.electrical"),
        (Self::AlarmsExemptMechanicalOnly, "permit.alarms_exempt_mechanical_only"),
        (Self::InstructionsLeft, "permit.instructions_left"),
        (Self::AirflowPosted, "permit.airflow_posted"),
        (Self::CompletionNotice, "permit.completion_notice"),
    ];
}

impl Book {
    /// When make-up air is asked for because of the size of an exhaust.
    pub fn make_up(&self) -> Answer<MakeUpRule> {
        let only_with_open_draft =
            self.yes_no("make_up.only_with_open_draft").value() == Some(&true);
        let damper_pressure = self.quantity("make_up.damper_pressure").value().copied();
        self.quantity("make_up.above").map(|above| MakeUpRule {
            above,
            only_with_open_draft,
            damper_pressure,
        })
    }

    /// Whether make-up air is asked for at any size where exhaust disturbs fuel appliances.
    pub fn make_up_if_interfering(&self) -> Answer<bool> {
        self.yes_no("make_up.any_interference")
    }

    /// Whether make-up air is asked for with supplemental exhaust where an appliance can spill.
    pub fn make_up_if_spillage_prone(&self) -> Answer<bool> {
        self.yes_no("make_up.spillage_prone")
    }

    /// Most depressurisation of the house with every exhaust on, as a positive pressure.
    pub fn house_depressurisation(&self, venting: Venting) -> Answer<Pressure> {
        self.quantity(match venting {
            Venting::NaturalWaterHeater => "house_pressure.natural_water_heater",
            Venting::NaturalSharedVent => "house_pressure.natural_shared_vent",
            Venting::NaturalOrInducedHeater => "house_pressure.natural_or_induced_heater",
            Venting::PowerVented => "house_pressure.power_vented",
            Venting::Sealed => "house_pressure.sealed",
            Venting::SpillageProne => "house_pressure.spillage_prone",
            Venting::NotSpillageProne => "house_pressure.other",
        })
    }

    /// Air from the dwelling into the room.
    pub fn transfer(&self) -> TransferRule {
        TransferRule {
            free_area: self.quantity("transfer.free_area"),
            door_gap: self.quantity("transfer.door_gap"),
            door_gap_unfinished: self.quantity("transfer.door_gap_unfinished"),
            by_door_gap: self.yes_no("transfer.by_door_gap"),
        }
    }

    /// Whether the airflow of a local exhaust must be measured.
    pub fn local_airflow_measured(&self) -> Answer<MeasureRule> {
        let exempt_if_rated_at = self.quantity("verify.local_exempt_rated_at").value().copied();
        self.yes_no("verify.local_measured")
            .map(|required| MeasureRule { required, exempt_if_rated_at })
    }

    /// Whether the airflow of mechanical ventilation must be measured.
    pub fn mechanical_airflow_measured(&self) -> Answer<bool> {
        self.yes_no("verify.mechanical_measured")
    }

    /// How airflow may be measured.
    pub fn measuring_methods(&self) -> Answer<Vec<FlowMethod>> {
        self.members("verify.methods", FlowMethod::from_word)
    }

    /// Kitchen hoods whose airflow need not be measured.
    pub fn hood_measuring_exemption(&self) -> Answer<HoodExemption> {
        let question = "verify.hood_exempt_diameter";
        let length = self.quantity("verify.hood_exempt_length").value().copied();
        match (self.quantity(question), self.count("verify.hood_exempt_elbows").value()) {
            (Answer::Known(diameter), Some(elbows)) => {
                Answer::Known(diameter.map(|diameter| HoodExemption {
                    diameter,
                    length,
                    elbows: *elbows,
                }))
            }
            _ => Answer::missing(question),
        }
    }

    /// Tolerance on a design airflow, as a share. A least airflow is read one-sided.
    pub fn design_tolerance(&self) -> Answer<f64> {
        self.quantity::<Ratio>("verify.design_tolerance").map(Ratio::ratio)
    }

    /// Whether the run-on of the control must be checked at hand-over.
    pub fn run_on_checked(&self) -> Answer<bool> {
        self.yes_no("verify.run_on_checked")
    }

    /// Least efficacy of a fan that serves the whole house; a plain local fan has none.
    pub fn efficacy(&self, fan: WholeHouseFan) -> Answer<Efficacy> {
        let question = match fan {
            WholeHouseFan::Exhaust(airflow) => self.exhaust_efficacy_key(airflow),
            WholeHouseFan::InLine => "efficacy.in_line",
            WholeHouseFan::RangeHood => "efficacy.range_hood",
            WholeHouseFan::HeatRecovery => "efficacy.heat_recovery",
            WholeHouseFan::AirHandler => "efficacy.air_handler",
        };
        self.number(question).map(Efficacy)
    }

    fn exhaust_efficacy_key(&self, airflow: Airflow) -> &'static str {
        let reaches = |key: &str| {
            let from = self.quantity::<Airflow>(key);
            from.value().is_some_and(|from| airflow.m3_s() >= from.m3_s() * (1.0 - 1e-9))
        };
        if reaches("efficacy.large_from") {
            "efficacy.exhaust_large"
        } else if reaches("efficacy.medium_from") {
            "efficacy.exhaust_medium"
        } else {
            "efficacy.exhaust_small"
        }
    }

    /// Least static pressure at which efficacy is rated.
    pub fn efficacy_rating_pressure(&self, fan: WholeHouseFan) -> Answer<Pressure> {
        match fan {
            WholeHouseFan::InLine | WholeHouseFan::HeatRecovery => {
                self.quantity("efficacy.in_line_rated_at")
            }
            WholeHouseFan::Exhaust(_) | WholeHouseFan::RangeHood => {
                self.quantity("efficacy.exhaust_rated_at")
            }
            WholeHouseFan::AirHandler => Answer::missing("efficacy.exhaust_rated_at"),
        }
    }

    /// Facts about permits and papers that the book holds.
    pub fn permit_notes(&self) -> Vec<Ruled<PermitNote>> {
        let held = PermitNote::ALL.iter().filter_map(|(note, key)| {
            let ruled = self.yes_no(key).into_known()?;
            ruled.value.then(|| ruled.with(*note))
        });
        held.collect()
    }
}
