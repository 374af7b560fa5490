//! What a book says of the duct: length, make, supports, sealing, insulation, joining.

use dewpath_units::{Airflow, Area, Length, Ratio, ThermalResistance};

use crate::answer::{Answer, Ruled};
use crate::book::Book;
use crate::table::{DuctKind, TableLimit};
use crate::words::{Joined, Material, Seal, WayOut};

/// Insulation asked for on an exhaust duct in unheated space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InsulationAsked {
    /// The book was read and asks for none on a lone exhaust duct.
    NoneAsked,
    /// At least so much.
    AtLeast(ThermalResistance),
    /// At least so thick, of common insulation.
    Thickness(Length),
}

/// Distances between duct supports.
#[derive(Clone, Debug, PartialEq)]
pub struct Supports {
    /// Greatest distance.
    pub spacing: Answer<Length>,
    /// Greatest sag between supports, as a slope (flexible duct).
    pub sag: Answer<Ratio>,
    /// Least width of the straps.
    pub strap_width: Answer<Length>,
}

/// Mesh of a screen at an outdoor opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenMesh {
    /// Least opening.
    pub least: Length,
    /// Greatest opening.
    pub most: Length,
}

/// Sheet metal of a duct.
#[derive(Clone, Debug, PartialEq)]
pub struct Metal {
    /// Least thickness.
    pub thickness: Answer<Length>,
    /// The gauge it is sold by.
    pub gauge: Answer<u32>,
}

/// Where a duct runs, as far as its metal matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MetalUse {
    /// In the dwelling.
    Dwelling,
    /// Through the separation to a garage.
    GarageSeparation,
}

/// An elbow of a dryer duct, as the deduction table tells them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DryerElbow {
    /// 45° where true, 90° where false.
    pub is_45: bool,
    /// Radius and make.
    pub radius: DryerElbowRadius,
}

/// Radius of a dryer elbow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DryerElbowRadius {
    /// 4 in., mitred.
    Mitred4In,
    /// 6 in., smooth.
    Smooth6In,
    /// 8 in., smooth.
    Smooth8In,
    /// 10 in., smooth.
    Smooth10In,
}

impl DryerElbow {
    const fn key(self) -> &'static str {
        use DryerElbowRadius::{Mitred4In, Smooth6In, Smooth8In, Smooth10In};
        match (self.is_45, self.radius) {
            (true, Mitred4In) => "dryer.elbow_45_mitred_4in",
            (false, Mitred4In) => "dryer.elbow_90_mitred_4in",
            (true, Smooth6In) => "dryer.elbow_45_smooth_6in",
            (false, Smooth6In) => "dryer.elbow_90_smooth_6in",
            (true, Smooth8In) => "dryer.elbow_45_smooth_8in",
            (false, Smooth8In) => "dryer.elbow_90_smooth_8in",
            (true, Smooth10In) => "dryer.elbow_45_smooth_10in",
            (false, Smooth10In) => "dryer.elbow_90_smooth_10in",
        }
    }
}

/// Rules for a clothes dryer that shares the job.
#[derive(Clone, Debug, PartialEq)]
pub struct DryerRules {
    /// Nominal diameter.
    pub diameter: Answer<Length>,
    /// Least metal thickness.
    pub metal_thickness: Answer<Length>,
    /// Greatest distance of supports.
    pub support_spacing: Answer<Length>,
    /// How far a fastener may reach into the duct.
    pub fastener_intrusion: Answer<Length>,
    /// Longest transition duct.
    pub transition_longest: Answer<Length>,
    /// Least open area of the outlet.
    pub outlet_open_area: Answer<Area>,
    /// Whether a screen may be there.
    pub screen_allowed: Answer<bool>,
    /// Whether it needs a duct of its own.
    pub own_duct: Answer<bool>,
    /// Least distance of the outlet from openings.
    pub to_opening: Answer<Length>,
    /// Whether a booster fan is allowed.
    pub booster_allowed: Answer<bool>,
    /// Equivalent length above which a label is asked for.
    pub label_above: Answer<Length>,
    /// Exhaust above which make-up air is asked for.
    pub make_up_above: Answer<Airflow>,
}

impl Book {
    /// What the book's duct-length table says of a run.
    ///
    /// `rated` is the fan's airflow at the table's rating pressure ([`Book::duct_table_rating`]);
    /// `elbows` counts the elbows of the run. The next higher airflow and the next smaller diameter
    /// are used; nothing is interpolated. Other shapes enter with [`hydraulic_diameter`].
    pub fn duct_length(
        &self,
        kind: DuctKind,
        diameter: Length,
        rated: Airflow,
        elbows: u32,
    ) -> Answer<TableLimit> {
        let found =
            self.duct_table.as_ref().and_then(|table| table.limit(kind, diameter, rated, elbows));
        match found {
            Some((limit, source)) => Answer::Known(self.ruled(source, limit)),
            None => Answer::missing("duct_table"),
        }
    }

    /// Pressure at which a fan's airflow enters the duct-length table.
    pub fn duct_table_rating(&self) -> Answer<dewpath_units::Pressure> {
        match &self.duct_table {
            Some(table) => {
                let pressure = dewpath_units::Pressure::from_pa(table.rated_at);
                Answer::Known(self.ruled(&table.source, pressure))
            }
            None => Answer::missing("duct_table"),
        }
    }

    /// How a run that misses the table may still be shown to be right.
    pub fn duct_table_ways_out(&self) -> Answer<Vec<WayOut>> {
        self.members("duct.ways_out", WayOut::from_word)
    }

    /// Longest run that the book's sizing table covers, where it sets one length for all.
    pub fn longest_run(&self) -> Answer<Length> {
        self.quantity("duct.longest_run")
    }

    /// Whether the duct must be no smaller than the outlet of the fan.
    pub fn not_smaller_than_outlet(&self) -> Answer<bool> {
        self.yes_no("duct.not_smaller_than_outlet")
    }

    /// Straight length wanted at the fan.
    pub fn straight_at_fan(&self) -> Answer<Length> {
        self.quantity("duct.straight_at_fan")
    }

    /// Whether the duct must fall toward its outlet.
    pub fn falls_outward(&self) -> Answer<bool> {
        self.yes_no("duct.falls_outward")
    }

    /// Least fall toward the outlet, as a slope.
    pub fn fall(&self) -> Answer<Ratio> {
        self.quantity("duct.fall")
    }

    /// Whether a trap or drain is wanted at the low point of a rise.
    pub fn trap_at_low_point(&self) -> Answer<bool> {
        self.yes_no("duct.trap_low_point")
    }

    /// Most bends in flexible duct at this airflow.
    pub fn flex_bends(&self, airflow: Airflow) -> Answer<u32> {
        let threshold = self.quantity::<Airflow>("duct.flex_bends_threshold");
        let is_above = threshold.value().is_some_and(|most| airflow.m3_s() > most.m3_s());
        self.count(if is_above { "duct.flex_bends_above" } else { "duct.flex_bends" })
    }

    /// Least radius of a bend in flexible duct at its centre line, in diameters.
    pub fn bend_radius_diameters(&self) -> Answer<f64> {
        self.quantity::<Ratio>("duct.bend_radius_diameters").map(Ratio::ratio)
    }

    /// What an exhaust duct may be made of.
    pub fn duct_materials(&self) -> Answer<Vec<Material>> {
        self.members("duct.materials", Material::from_word)
    }

    /// Whether an exhaust duct must be smooth inside.
    pub fn smooth_inside(&self) -> Answer<bool> {
        self.yes_no("duct.smooth_inside")
    }

    /// Sheet metal of a duct.
    pub fn duct_metal(&self, place: MetalUse) -> Metal {
        match place {
            MetalUse::Dwelling => Metal {
                thickness: self.quantity("duct.metal_thickness"),
                gauge: self.count("duct.metal_gauge"),
            },
            MetalUse::GarageSeparation => Metal {
                thickness: self.quantity("duct.garage_thickness"),
                gauge: self.count("duct.garage_gauge"),
            },
        }
    }

    /// Whether a duct may open into a garage.
    pub fn opening_into_garage_allowed(&self) -> Answer<bool> {
        self.yes_no("duct.garage_openings")
    }

    /// How a duct is supported.
    pub fn supports(&self, kind: DuctKind) -> Supports {
        let strap_width = self.quantity("duct.strap_width");
        match kind {
            DuctKind::Smooth => Supports {
                spacing: self.quantity("duct.metal_support_spacing"),
                sag: Answer::missing("duct.flex_sag"),
                strap_width,
            },
            DuctKind::Flex => Supports {
                spacing: self.quantity("duct.flex_support_spacing"),
                sag: self.quantity("duct.flex_sag"),
                strap_width,
            },
        }
    }

    /// Whether joints must be fastened and sealed.
    pub fn joints_fastened(&self) -> Answer<bool> {
        self.yes_no("duct.joints_fastened")
    }

    /// Fewest screws in a round metal joint.
    pub fn joint_screws(&self) -> Answer<u32> {
        self.count("duct.joint_screws")
    }

    /// Least lap of a crimped joint.
    pub fn crimp_lap(&self) -> Answer<Length> {
        self.quantity("duct.crimp_lap")
    }

    /// How joints may be sealed.
    pub fn seals(&self) -> Answer<Vec<Seal>> {
        self.members("duct.seals", Seal::from_word)
    }

    /// Mesh of a screen at an outdoor opening.
    pub fn screen_mesh(&self) -> Answer<ScreenMesh> {
        let least = self.quantity::<Length>("duct.screen_opening_least");
        let most = self.quantity::<Length>("duct.screen_opening_most").into_known();
        match (least, most) {
            (Answer::Known(least), Some(most)) => {
                Answer::Known(least.map(|least| ScreenMesh { least, most: most.value }))
            }
            _ => Answer::missing("duct.screen_opening_least"),
        }
    }

    /// Whether the exhaust must have a damper that closes when it is off.
    pub fn damper_required(&self) -> Answer<bool> {
        self.yes_no("duct.damper")
    }

    /// Whether a cavity of the building may serve as the duct.
    pub fn cavity_as_duct_allowed(&self) -> Answer<bool> {
        self.yes_no("duct.cavity_as_duct")
    }

    /// Insulation asked for on an exhaust duct through unheated space.
    pub fn insulation_in_unheated_space(&self) -> Answer<InsulationAsked> {
        let question = "duct.insulation_unheated";
        if let Answer::Known(none) = self.is_none_asked(question) {
            return Answer::Known(none.map(|()| InsulationAsked::NoneAsked));
        }
        match self.quantity_of_insulation(question) {
            Some(ruled) => Answer::Known(ruled.map(InsulationAsked::AtLeast)),
            None => match self.quantity::<Length>("duct.insulation_thickness") {
                Answer::Known(ruled) => Answer::Known(ruled.map(InsulationAsked::Thickness)),
                Answer::NotInBook { .. } => Answer::missing(question),
            },
        }
    }

    fn quantity_of_insulation(&self, question: &str) -> Option<Ruled<ThermalResistance>> {
        Some(self.number(question).into_known()?.map(ThermalResistance::from_rsi))
    }

    /// Whether a bath exhaust may be joined to such another exhaust. `false` where the book forbids
    /// it; books do not list what is allowed.
    pub fn joining_allowed(&self, with: Joined) -> Answer<bool> {
        match self.members("joining.never_with", Joined::from_word) {
            Answer::Known(never) if never.value.contains(&with) => Answer::Known(never.with(false)),
            _ => Answer::missing("joining.never_with"),
        }
    }

    /// Whether several dwellings may share a riser.
    pub fn shared_riser_allowed(&self) -> Answer<bool> {
        match self.yes_no("joining.shared_riser") {
            Answer::Known(ruled) => Answer::Known(ruled),
            Answer::NotInBook { question } => match self.joining_allowed(Joined::OtherDwelling) {
                Answer::Known(ruled) => Answer::Known(ruled),
                Answer::NotInBook { .. } => Answer::NotInBook { question },
            },
        }
    }

    /// Whether a duct may lie in the common wall of townhouses.
    pub fn townhouse_wall_allowed(&self) -> Answer<bool> {
        self.yes_no("joining.townhouse_wall")
    }

    /// Longest dryer duct with these elbows; zero if the elbows use it up.
    pub fn dryer_run_limit(&self, elbows: &[DryerElbow]) -> Answer<Length> {
        let Some(longest) = self.quantity::<Length>("dryer.longest_run").into_known() else {
            return Answer::missing("dryer.longest_run");
        };
        let mut left = longest.value;
        let mut standing = longest.standing;
        for elbow in elbows {
            let Some(deduction) = self.quantity::<Length>(elbow.key()).into_known() else {
                return Answer::missing(elbow.key());
            };
            left -= deduction.value;
            standing = standing.and(deduction.standing);
        }
        let left = if left.m() > 0.0 { left } else { Length::ZERO };
        Answer::Known(Ruled { standing, ..longest.with(left) })
    }

    /// Rules for a clothes dryer that shares the job.
    pub fn dryer(&self) -> DryerRules {
        DryerRules {
            diameter: self.quantity("dryer.diameter"),
            metal_thickness: self.quantity("dryer.metal_thickness"),
            support_spacing: self.quantity("dryer.support_spacing"),
            fastener_intrusion: self.quantity("dryer.fastener_intrusion"),
            transition_longest: self.quantity("dryer.transition_longest"),
            outlet_open_area: self.quantity("dryer.outlet_open_area"),
            screen_allowed: self.yes_no("dryer.screen"),
            own_duct: self.yes_no("dryer.own_duct"),
            to_opening: self.quantity("dryer.to_opening"),
            booster_allowed: self.yes_no("dryer.booster_fan"),
            label_above: self.quantity("dryer.label_above"),
            make_up_above: self.quantity("make_up.dryer_above"),
        }
    }

    /// Whether a kitchen hood needs a duct of its own.
    pub fn hood_own_duct(&self) -> Answer<bool> {
        self.yes_no("hood.own_duct")
    }

    /// What the duct of a kitchen hood may be made of.
    pub fn hood_materials(&self) -> Answer<Vec<Material>> {
        self.members("hood.materials", Material::from_word)
    }
}

/// Diameter with which a duct that is not round enters a duct-length table: four times its area over
/// its perimeter (IRC Table M1504.2, footnote b). Not a number if the perimeter is zero.
pub fn hydraulic_diameter(area: Area, perimeter: Length) -> Length {
    Length::from_m(4.0 * area.m2() / perimeter.m())
}
