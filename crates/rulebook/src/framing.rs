//! What may be cut out of members, studs and plates, what shields a hole near a face, and what closes a
//! hole in something that keeps fire apart.

use dewpath_units::{Area, Duration, Length, Pressure, Ratio};

use crate::answer::Answer;
use crate::book::Book;
use crate::words::FireBlock;

/// The largest round hole in a sawn joist or rafter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JoistHole {
    /// Largest diameter as a share of the actual depth.
    pub share: f64,
    /// Least wood left to the upper and lower edge.
    pub to_edge: Option<Length>,
    /// Least wood left to the next hole or notch.
    pub to_next: Option<Length>,
}

impl JoistHole {
    /// Largest diameter in a member of an actual depth; none where the edges leave no room for one, or
    /// the depth is none.
    pub fn largest(&self, depth: Length) -> Option<Length> {
        let edges = self.to_edge.map_or(0.0, |edge| 2.0 * edge.m());
        let most = (self.share * depth.m()).min(depth.m() - edges);
        (most > 0.0 && most.is_finite()).then(|| Length::from_m(most))
    }
}

/// A notch in a sawn joist or rafter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JoistNotch {
    /// Deepest, as a share of the actual depth of the member.
    pub depth_share: f64,
    /// Longest, as a share of that depth.
    pub length_share: Option<f64>,
    /// Whether it may lie in the middle third of the span.
    pub in_middle_third: Option<bool>,
    /// Deepest at the end of the member, as a share of its depth.
    pub end_depth_share: Option<f64>,
    /// Whether only the upper edge may be notched.
    pub top_only: Option<bool>,
    /// Farthest from the bearing, as a share of the depth.
    pub from_bearing_share: Option<f64>,
    /// Thickness from which the tension side may be notched at the ends alone.
    pub tension_side_below: Option<Length>,
}

/// Which stud is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StudKind {
    /// In a wall that carries load, or an outside wall.
    Bearing,
    /// In any other wall.
    NonBearing,
}

/// What may be cut out of a stud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StudCut {
    /// Largest hole as a share of the actual depth.
    pub hole_share: Option<f64>,
    /// Largest hole as a share of the depth where the stud is doubled ...
    pub hole_share_doubled: Option<f64>,
    /// ... and no more than so many in succession are.
    pub doubled_in_succession: Option<u32>,
    /// Deepest notch as a share of the actual depth.
    pub notch_share: Option<f64>,
    /// Least wood left from a hole to the face.
    pub to_edge: Option<Length>,
    /// Whether a hole may lie in the same section as a notch.
    pub hole_at_notch: Option<bool>,
    /// Least depth left uncut, as a share of the actual depth.
    pub left_share: Option<f64>,
    /// Least depth left uncut.
    pub left: Option<Length>,
}

impl StudCut {
    /// Largest hole in a stud of an actual depth, by its share and edges; none where no rule for it is
    /// known or nothing is left. Where `doubled`, the share for doubled studs counts if there is one.
    pub fn largest_hole(&self, depth: Length, doubled: bool) -> Option<Length> {
        let share =
            if doubled { self.hole_share_doubled.or(self.hole_share) } else { self.hole_share };
        let left_share = self.left_share.map(|left| 1.0 - left);
        let by_share = share.into_iter().chain(left_share).map(|share| share * depth.m());
        let by_left = self.left.map(|left| depth.m() - left.m());
        let edges = self.to_edge.map(|edge| depth.m() - 2.0 * edge.m());
        let most = by_share.chain(by_left).reduce(f64::min)?;
        let most = edges.map_or(most, |edges| most.min(edges));
        (most > 0.0 && most.is_finite()).then(|| Length::from_m(most))
    }
}

/// What a plate needs where it is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateRule {
    /// Share of the plate's width above which a tie is needed.
    pub tie_above_share: Option<f64>,
    /// Least width left uncut without reinforcement.
    pub left: Option<Length>,
    /// Least thickness of the tie.
    pub tie_thickness: Option<Length>,
    /// The same as a gauge.
    pub tie_gauge: Option<u32>,
    /// Least width of the tie.
    pub tie_width: Option<Length>,
    /// How far it reaches beyond the opening on each side.
    pub tie_past: Option<Length>,
    /// Fewest nails on each side.
    pub nails_each_side: Option<u32>,
    /// Least diameter of a nail.
    pub nail_diameter: Option<Length>,
    /// Least length of a nail.
    pub nail_length: Option<Length>,
    /// Not needed where a structural panel covers the whole side of the wall.
    pub waived_by_panel: Option<bool>,
}

impl PlateRule {
    /// Widest cut in a plate of an actual width without tie or reinforcement; none where no rule is
    /// known or the plate is too narrow for any.
    pub fn widest_without_tie(&self, width: Length) -> Option<Length> {
        let by_share = self.tie_above_share.map(|share| share * width.m());
        let by_left = self.left.map(|left| width.m() - left.m());
        let most = by_share.into_iter().chain(by_left).reduce(f64::min)?;
        (most > 0.0 && most.is_finite()).then(|| Length::from_m(most))
    }
}

/// A plate of steel over a hole near a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shield {
    /// Needed where the hole is nearer to the face than this.
    pub within: Length,
    /// Least thickness of the steel.
    pub thickness: Option<Length>,
    /// How far it reaches beyond the plates or members.
    pub past: Option<Length>,
}

/// Members that no general rule allows to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChartMember {
    /// Truss.
    Truss,
    /// I-joist.
    IJoist,
    /// Laminated or otherwise engineered timber.
    Engineered,
}

/// Separation of two dwellings of one building.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DwellingSeparation {
    /// How long it resists fire.
    pub rating: Duration,
    /// The same where sprinklers are there.
    pub rating_sprinklered: Option<Duration>,
    /// Whether what goes through it must belong to a tested assembly or a listed firestop system.
    pub tested_penetration: Option<bool>,
    /// Pressure difference of that test.
    pub test_pressure: Option<Pressure>,
}

impl Book {
    fn share(&self, question: &str) -> Option<f64> {
        self.quantity::<Ratio>(question).value().map(|share| share.ratio())
    }

    fn length(&self, question: &str) -> Option<Length> {
        self.quantity(question).value().copied()
    }

    fn whole(&self, question: &str) -> Option<u32> {
        self.count(question).value().copied()
    }

    fn yes(&self, question: &str) -> Option<bool> {
        self.yes_no(question).value().copied()
    }

    /// Round holes in sawn joists and rafters.
    pub fn joist_hole(&self) -> Answer<JoistHole> {
        let to_edge = self.length("joist.hole_to_edge");
        let to_next = self.length("joist.hole_to_next");
        self.quantity::<Ratio>("joist.hole_share").map(|share| JoistHole {
            share: share.ratio(),
            to_edge,
            to_next,
        })
    }

    /// Notches in sawn joists and rafters.
    pub fn joist_notch(&self) -> Answer<JoistNotch> {
        self.quantity::<Ratio>("joist.notch_share").map(|share| JoistNotch {
            depth_share: share.ratio(),
            length_share: self.share("joist.notch_length_share"),
            in_middle_third: self.yes("joist.notch_in_middle_third"),
            end_depth_share: self.share("joist.end_notch_share"),
            top_only: self.yes("joist.notch_top_only"),
            from_bearing_share: self.share("joist.notch_from_bearing_share"),
            tension_side_below: self.length("joist.tension_notch_below"),
        })
    }

    /// Holes and notches in studs.
    pub fn stud_cut(&self, kind: StudKind) -> Answer<StudCut> {
        let bearing = kind == StudKind::Bearing;
        let pick = |for_bearing, for_other| if bearing { for_bearing } else { for_other };
        let cut = StudCut {
            hole_share: self.share(pick("stud.hole_share_bearing", "stud.hole_share_other")),
            hole_share_doubled: bearing.then(|| self.share("stud.hole_share_doubled")).flatten(),
            doubled_in_succession: bearing
                .then(|| self.whole("stud.doubled_in_succession"))
                .flatten(),
            notch_share: self.share(pick("stud.notch_share_bearing", "stud.notch_share_other")),
            to_edge: self.length("stud.hole_to_edge"),
            hole_at_notch: self.yes("stud.hole_at_notch"),
            left_share: bearing.then(|| self.share("stud.left_share_bearing")).flatten(),
            left: if bearing { None } else { self.length("stud.left_other") },
        };
        // The place of the answer is that of the first rule the book has for this kind.
        let first = pick("stud.hole_share_bearing", "stud.hole_share_other");
        let second = pick("stud.left_share_bearing", "stud.left_other");
        match self.quantity::<Ratio>(first) {
            Answer::Known(ruled) => Answer::Known(ruled.with(cut)),
            Answer::NotInBook { question } => {
                let found = if bearing {
                    self.quantity::<Ratio>(second).map(|_| cut)
                } else {
                    self.quantity::<Length>(second).map(|_| cut)
                };
                match found {
                    Answer::Known(ruled) => Answer::Known(ruled),
                    Answer::NotInBook { .. } => Answer::NotInBook { question },
                }
            }
        }
    }

    /// How far past the cut, and by how thick a member, a weakened stud is reinforced.
    pub fn stud_reinforcement(&self) -> Answer<(Length, Length)> {
        let Some(by) = self.length("stud.reinforced_by") else {
            return Answer::missing("stud.reinforced_by");
        };
        self.quantity::<Length>("stud.reinforced_past").map(|past| (past, by))
    }

    /// Cuts in the plate of a wall that carries load, or of an outside wall.
    pub fn plate_rule(&self) -> Answer<PlateRule> {
        let rule = PlateRule {
            tie_above_share: self.share("plate.tie_above_share"),
            left: self.length("plate.left"),
            tie_thickness: self.length("plate.tie_thickness"),
            tie_gauge: self.whole("plate.tie_gauge"),
            tie_width: self.length("plate.tie_width"),
            tie_past: self.length("plate.tie_past"),
            nails_each_side: self.whole("plate.nails_each_side"),
            nail_diameter: self.length("plate.nail_diameter"),
            nail_length: self.length("plate.nail_length"),
            waived_by_panel: self.yes("plate.waived_by_panel"),
        };
        match self.quantity::<Ratio>("plate.tie_above_share") {
            Answer::Known(ruled) => Answer::Known(ruled.with(rule)),
            Answer::NotInBook { .. } => self.quantity::<Length>("plate.left").map(|_| rule),
        }
    }

    /// Whether such a member is cut only by its maker's chart or a designer's leave.
    pub fn only_by_chart(&self, member: ChartMember) -> Answer<bool> {
        self.yes_no(match member {
            ChartMember::Truss => "member.truss_by_designer",
            ChartMember::IJoist | ChartMember::Engineered => "member.engineered_by_chart",
        })
    }

    /// Longest opening in a floor or ceiling that a single header spans; a longer one has its header
    /// and trimmers doubled.
    pub fn single_header_most(&self) -> Answer<Length> {
        self.quantity("member.single_header_most")
    }

    /// Whether blocking at the ends of joists is put back where it was cut.
    pub fn end_restraint_restored(&self) -> Answer<bool> {
        self.yes_no("member.end_restraint_restored")
    }

    /// Steel over a pipe or duct near the face of a member.
    pub fn shield(&self) -> Answer<Shield> {
        self.shielded("shield.within", "shield.thickness", "shield.past")
    }

    /// Steel over a dryer duct near the face of a member.
    pub fn dryer_shield(&self) -> Answer<Shield> {
        self.shielded("dryer.shield_within", "dryer.shield_thickness", "dryer.shield_past")
    }

    fn shielded(&self, within: &str, thickness: &str, past: &str) -> Answer<Shield> {
        let (thickness, past) = (self.length(thickness), self.length(past));
        self.quantity(within).map(|within| Shield { within, thickness, past })
    }

    /// Whether the gap round a duct through a floor or ceiling is closed against fire.
    pub fn annular_gap_blocked(&self) -> Answer<bool> {
        self.yes_no("fire.annular_blocked")
    }

    /// What may close concealed spaces against fire.
    pub fn fire_blocking(&self) -> Answer<Vec<FireBlock>> {
        self.members("fire.blocking", FireBlock::from_word)
    }

    /// Greatest level distance of fire blocking in a concealed space of a wall.
    pub fn fire_blocking_every(&self) -> Answer<Length> {
        self.quantity("fire.blocking_every")
    }

    /// Area of a concealed floor and ceiling space above which it is parted by draft stops.
    pub fn draft_stop_above(&self) -> Answer<Area> {
        self.quantity("fire.draft_stop_above")
    }

    /// Separation of two dwellings of one building.
    pub fn dwelling_separation(&self) -> Answer<DwellingSeparation> {
        let rating_sprinklered =
            self.quantity("fire.dwelling_separation_sprinklered").value().copied();
        let tested_penetration = self.yes("fire.tested_penetration");
        let test_pressure = self.quantity("fire.test_pressure").value().copied();
        self.quantity("fire.dwelling_separation").map(|rating| DwellingSeparation {
            rating,
            rating_sprinklered,
            tested_penetration,
            test_pressure,
        })
    }
}
