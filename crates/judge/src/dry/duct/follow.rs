//! One draw of a path of runs through its design day: what settles, dries, freezes and runs.

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_job::model::{Jacket, SlopeTo, Surroundings};
use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Outlet, Piece, Slope, Story};
use dewpath_moisture::duct::pocket::Pocket;
use dewpath_moisture::heat::{
    self, Burial, FOIL_EMISSIVITY, Insulation, PLAIN_EMISSIVITY, Squeeze, Wall,
};
use dewpath_moisture::saturation::Saturation;
use dewpath_units::{Length, Pressure, Ratio, Temperature, ThermalResistance, Velocity};

use super::super::day::Day;
use super::super::plan::Plan;
use super::course::Leg;
use super::plan::{Path, PiecePlan, roughness_m, unheated, wall_j_m2_k};

/// Thickness that is left of squeezed insulation. Judgement: pressed between joist and board.
const SQUEEZED_TO: f64 = 0.3;
/// Conductivity of loose fill, W/(m·K): cellulose 0.040, blown glass fibre 0.050 (from memory).
const FILL_W_M_K: f64 = 0.045;
/// Air across a duct outdoors, m/s. Judgement: the wind of a design day behind the shelter of a wall.
const OUTDOOR_M_S: f64 = 2.0;
/// Distance between two supports that a low point hangs between, m. Common practice, no source: 4 ft.
const SPAN_M: f64 = 1.2;
/// Length of a cell, m, and the least number of them in a run.
const CELL_M: f64 = 0.8;
const LEAST_CELLS: usize = 4;
/// Cells of a piece at most.
const MOST_CELLS: usize = 40;
/// Design days that are followed one after the other until two of them leave the same: a cold spell. Judgement: a duct that does not dry
/// between showers would hold more with every further day.
pub(super) const MOST_DAYS: usize = 4;
/// What two days may differ by, as a share and in kg: so little that a day more or less does not show.
const SETTLED: f64 = 0.005;
const SETTLED_KG: f64 = 2e-5;
/// Flow below which nothing is drawn off worth a share, m³/s.
const HARDLY_M3_S: f64 = 1e-6;
/// Shares of flow beyond which something else than this room feeds the run.
const MOST_SHARE: f64 = 50.0;

/// What is the same in all draws.
#[derive(Clone, Copy)]
pub(crate) struct Scene<'a> {
    pub case: &'a Case<'a>,
    pub plan: &'a Plan,
    pub path: &'a Path,
}

/// Air around the house and in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Climate {
    pub house_c: f64,
    pub house_w: f64,
    pub outdoor_c: f64,
    pub outdoor_w: f64,
    pub pressure_pa: f64,
    /// Whether unheated spaces are taken as warm as outdoors, as in summer.
    pub vented: bool,
}

/// A run through one design day, kg and °C.
#[derive(Debug, Clone, Default)]
pub(crate) struct RunDay {
    /// Settled inside in one shower, run-on included.
    pub shower_kg: f64,
    /// Settled inside at rest, from air that drifts up.
    pub drift_kg: f64,
    /// Left in the duct or run out of it on the last day, alike to the one before or the last of a cold spell.
    pub net_kg: f64,
    /// Frost at the end of the first day.
    pub frost_kg: f64,
    /// Share of the section that frost closes where it is thickest, at the end of the last day.
    pub frosted: f64,
    /// Of the net water what runs back to the fan, out at the terminal, or stands; frost by where its melt goes.
    pub back_kg: f64,
    pub out_kg: f64,
    pub stands_kg: f64,
    /// Coldest inner wall while air of a shower passes; of the day where none does.
    pub coldest_c: f64,
    /// Dry air at full flow, kg/s.
    pub full_kg_s: f64,
    /// What does not add up.
    pub residual: f64,
    /// Whether a low point stood full and closed the duct.
    pub closed: bool,
    /// Water that a low point holds, where there is one.
    pub low_point_kg: Option<f64>,
    /// Whether two days were alike.
    pub settled: bool,
    /// Piece by piece.
    pub pieces: Vec<PieceDay>,
}

/// A piece through the same day.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct PieceDay {
    pub around_c: f64,
    pub resistance_rsi: f64,
    pub coldest_c: f64,
    /// Settled in one shower.
    pub condensed_kg: f64,
}

/// A piece with its wall in one draw.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PieceNow {
    pub piece: Piece,
    pub around: Around,
    pub wall: Wall,
    pub film_inside: f64,
    pub surroundings: heat::Surroundings,
    pub place: Surroundings,
}

impl Scene<'_> {
    /// Flow of a run at full flow over that of its room.
    pub(crate) fn share(&self, run: usize, draw: Draw) -> Option<f64> {
        let flows = self.case.flows?;
        let through = flows.edges.get(self.path.runs[run].edge)?.at(draw);
        let room = flows.rooms[self.plan.rooms[self.path.room].room].as_ref()?.at(draw);
        if !(through.is_finite() && room.is_finite()) || through < 0.0 {
            return None;
        }
        Some(if room > HARDLY_M3_S { (through / room).min(MOST_SHARE) } else { 1.0 })
    }

    /// Flow of a run at full flow, m³/s.
    fn flow_m3_s(&self, run: usize, draw: Draw) -> Option<f64> {
        let flow = self.case.flows?.edges.get(self.path.runs[run].edge)?.at(draw);
        (flow.is_finite() && flow >= 0.0).then_some(flow)
    }

    /// The pieces of a run in one draw, with another insulation where one is tried in the cold.
    pub(crate) fn pieces(
        &self,
        run: usize,
        draw: Draw,
        climate: &Climate,
        air_c: f64,
        tried: Option<ThermalResistance>,
    ) -> Option<Vec<PieceNow>> {
        let flow = self.flow_m3_s(run, draw)?;
        let plans = &self.path.runs[run].pieces;
        let least = LEAST_CELLS.div_ceil(plans.len().max(1));
        plans
            .iter()
            .map(|plan| self.piece(plan, draw, climate, air_c, flow, least, tried))
            .collect()
    }

    #[expect(clippy::too_many_arguments, reason = "one piece, its draw, its air and its climate")]
    fn piece(
        &self,
        plan: &PiecePlan,
        draw: Draw,
        climate: &Climate,
        air_c: f64,
        flow_m3_s: f64,
        least_cells: usize,
        tried: Option<ThermalResistance>,
    ) -> Option<PieceNow> {
        let (air, own) = (self.case.inputs, &self.plan.inputs);
        let place = plan.place.value(own, draw);
        let share = plan.shares.iter().find(|(p, _)| *p == place)?.1;
        let share = if climate.vented && unheated(place) { 1.0 } else { own.value(share, draw) };
        let around_c = climate.house_c + share * (climate.outdoor_c - climate.house_c);
        let around_w = if unheated(place) { climate.outdoor_w } else { climate.house_w };
        let kind = plan.duct.kind.value(air, draw);
        let size = plan.duct.size.value(air, draw);
        // The wall of a flat duct is that of a round one of the same perimeter.
        let diameter = Length::from_m(section::perimeter_m(size) / core::f64::consts::PI);
        let length_m = air.value(plan.length, draw).max(0.01);
        let roughness = Length::from_m(roughness_m(kind).min(0.1 * diameter.m()));
        let insulation = Insulation::from_label(match tried {
            Some(tried) if unheated(place) => tried,
            _ => ThermalResistance::from_rsi(own.value(plan.insulation, draw)),
        })
        .ok()?;
        let squeeze = Squeeze {
            share_of_length: Ratio::from_ratio(own.value(plan.squeezed, draw).clamp(0.0, 1.0)),
            thickness_left: Ratio::from_ratio(SQUEEZED_TO),
        };
        let burial = (place == Surroundings::Buried).then(|| Burial {
            cover: Length::from_m(own.value(plan.cover, draw)),
            conductivity_w_m_k: FILL_W_M_K,
        });
        let surroundings = heat::Surroundings {
            temperature: Temperature::from_c(around_c),
            air_speed: Velocity::from_m_s(if place == Surroundings::Outdoors {
                OUTDOOR_M_S
            } else {
                0.0
            }),
            emissivity: Ratio::from_ratio(match plan.jacket.value(own, draw) {
                Jacket::Foil => FOIL_EMISSIVITY,
                Jacket::Plain => PLAIN_EMISSIVITY,
            }),
            pressure: Pressure::from_pa(climate.pressure_pa),
        };
        let film_inside = film_inside(climate, air_c, flow_m3_s, diameter, roughness, length_m)?;
        let air_t = Temperature::from_c(air_c);
        let wall = Wall::settled(
            diameter,
            &insulation,
            squeeze,
            burial,
            air_t,
            film_inside,
            &surroundings,
        )
        .ok()?;
        let slope = slope(plan.slope.value(own, draw), diameter, own.value(plan.sag, draw))?;
        let cells = ((length_m / CELL_M).ceil() as usize).clamp(least_cells.max(1), MOST_CELLS);
        let piece = Piece {
            length: Length::from_m(length_m),
            diameter,
            roughness,
            wall_j_m2_k: wall_j_m2_k(kind, plan.sheet.map(|id| own.value(id, draw))),
            outward: wall.outward(),
            outside_film: wall.film,
            slope,
            cells,
        };
        let around = Around { t_c: around_c, w: around_w };
        Some(PieceNow { piece, around, wall, film_inside, surroundings, place })
    }

    /// Follows the runs through design days until two of them are alike, as they are.
    pub(crate) fn follow(&self, day: &Day) -> Option<Vec<RunDay>> {
        self.through_days(day, None, true)
    }

    /// The same with another insulation in the cold and with nothing drifting up at rest: what the insulation can help.
    pub(crate) fn in_use(&self, day: &Day, tried: ThermalResistance) -> Option<Vec<RunDay>> {
        self.through_days(day, Some(tried), false)
    }

    fn through_days(
        &self,
        day: &Day,
        tried: Option<ThermalResistance>,
        drift: bool,
    ) -> Option<Vec<RunDay>> {
        let course = day.course.as_ref()?;
        let first = course.legs.first()?;
        let climate = Climate {
            house_c: day.house_c,
            house_w: first.house_w,
            outdoor_c: day.outdoor_c,
            outdoor_w: day.outdoor_w,
            pressure_pa: day.pressure_pa,
            vented: false,
        };
        let mut runs = (0..self.path.runs.len())
            .map(|run| Followed::new(self, run, day.draw, &climate, tried))
            .collect::<Option<Vec<_>>>()?;
        for number in 0..MOST_DAYS {
            for run in &mut runs {
                run.begin_day();
            }
            for leg in &course.legs {
                let still = !drift && leg.rests;
                let leg = if still { Leg { flow_kg_s: 0.0, ..*leg } } else { *leg };
                self.pass(&mut runs, &leg, &climate)?;
            }
            let mut alike = true;
            for run in &mut runs {
                alike &= run.end_day(number, course.showers.max(1) as f64, course.seconds());
            }
            if alike {
                break;
            }
        }
        Some(runs.into_iter().map(|run| run.result).collect())
    }

    /// Leads the air of one leg through all runs.
    fn pass(&self, runs: &mut [Followed], leg: &Leg, climate: &Climate) -> Option<()> {
        for index in 0..runs.len() {
            let flow = leg.flow_kg_s * runs[index].share;
            let mut stream = Stream::default();
            let plan = &self.path.runs[index];
            if plan.from_room {
                stream.add(leg.flow_kg_s.min(flow), leg.t_c, leg.w);
            }
            for &feed in &plan.feeds {
                let (passed, out) = runs[feed].leaves;
                stream.add(passed, out.t_c, out.w);
            }
            // What else is drawn in comes from the rest of the dwelling.
            stream.add((flow - stream.kg_s).max(0.0), climate.house_c, leg.house_w);
            runs[index].step(leg, flow, stream.mixed(Outlet { t_c: leg.t_c, w: leg.w }))?;
        }
        Some(())
    }
}

/// Film inside, W/(m²·K), of air about half saturated: a little vapour moves it by less than a percent.
fn film_inside(
    climate: &Climate,
    air_c: f64,
    flow_m3_s: f64,
    diameter: Length,
    roughness: Length,
    length_m: f64,
) -> Option<f64> {
    let moist = dewpath_air::moist_air::MoistAir::from_relative_humidity(
        Temperature::from_c(air_c.clamp(-40.0, 60.0)),
        dewpath_units::Humidity::from_ratio(0.6),
        Pressure::from_pa(climate.pressure_pa),
    )
    .ok()?;
    let area = 0.25 * core::f64::consts::PI * diameter.m() * diameter.m();
    let speed = Velocity::from_m_s(flow_m3_s / area);
    let length = Length::from_m(length_m);
    heat::film_inside_w_m2_k(&moist, speed, diameter, roughness, length).ok()
}

/// Streams that come together, by dry mass.
#[derive(Default)]
pub(crate) struct Stream {
    /// Dry air, kg/s.
    pub kg_s: f64,
    warmth: f64,
    vapour: f64,
}

impl Stream {
    pub(crate) fn add(&mut self, kg_s: f64, t_c: f64, w: f64) {
        self.kg_s += kg_s;
        self.warmth += kg_s * t_c;
        self.vapour += kg_s * w;
    }

    /// What they make together; `else_air` where nothing moves.
    pub(crate) fn mixed(&self, else_air: Outlet) -> Outlet {
        if self.kg_s > 0.0 {
            Outlet { t_c: self.warmth / self.kg_s, w: self.vapour / self.kg_s }
        } else {
            else_air
        }
    }
}

fn slope(to: SlopeTo, diameter: Length, depth_over_diameter: f64) -> Option<Slope> {
    Some(match to {
        SlopeTo::Out => Slope::DrainsOut,
        SlopeTo::Back => Slope::DrainsBack,
        SlopeTo::Level => Slope::Level,
        SlopeTo::Low => {
            let depth = Length::from_m(depth_over_diameter.max(0.0) * diameter.m());
            Slope::Sag(Pocket::from_sag(diameter, Length::from_m(SPAN_M), depth).ok()?)
        }
    })
}

/// A run while it is followed.
struct Followed {
    line: DuctLine,
    /// First cell and end of each piece, and which way it falls.
    pieces: Vec<(usize, usize, Slope)>,
    share: f64,
    /// Dry air that left in the last leg, kg/s, and its state.
    leaves: (f64, Outlet),
    result: RunDay,
    net_before_kg: Option<f64>,
    /// Water and frost in each cell when the day began, kg.
    wet: Vec<f64>,
    /// Water and frost in each piece before a leg, kg.
    before: Vec<f64>,
    day: dewpath_moisture::duct::line::Snapshot,
    counted_kg: f64,
    condensed_kg: f64,
}

impl Followed {
    fn new(
        scene: &Scene<'_>,
        run: usize,
        draw: Draw,
        climate: &Climate,
        tried: Option<ThermalResistance>,
    ) -> Option<Self> {
        // Films outside follow the temperature of the air in use.
        let now = scene.pieces(run, draw, climate, climate.house_c, tried)?;
        let pieces: Vec<Piece> = now.iter().map(|p| p.piece).collect();
        let around: Vec<Around> = now.iter().map(|p| p.around).collect();
        let line = DuctLine::new(&pieces, &around, Pressure::from_pa(climate.pressure_pa)).ok()?;
        let mut cell = 0;
        let ranges = pieces
            .iter()
            .map(|piece| {
                let first = cell;
                cell += piece.cells;
                (first, cell, piece.slope)
            })
            .collect();
        let low_point_kg = pieces.iter().find_map(|piece| match piece.slope {
            Slope::Sag(pocket) => Some(pocket.holds_kg),
            _ => None,
        });
        let details = now
            .iter()
            .map(|p| PieceDay {
                around_c: p.around.t_c,
                resistance_rsi: p.wall.outward().rsi(),
                coldest_c: f64::INFINITY,
                condensed_kg: 0.0,
            })
            .collect();
        let day = line.snapshot();
        let wet = vec![0.0; line.cell_count()];
        let before = vec![0.0; pieces.len()];
        Some(Self {
            line,
            pieces: ranges,
            share: scene.share(run, draw)?,
            leaves: (0.0, Outlet { t_c: climate.house_c, w: climate.house_w }),
            result: RunDay { low_point_kg, pieces: details, ..RunDay::default() },
            net_before_kg: None,
            wet,
            before,
            day,
            counted_kg: 0.0,
            condensed_kg: 0.0,
        })
    }

    fn water_kg(&self, cell: usize) -> f64 {
        self.line.film_kg(cell).unwrap_or(0.0) + self.line.frost_kg(cell).unwrap_or(0.0)
    }

    fn begin_day(&mut self) {
        self.day = self.line.snapshot();
        for cell in 0..self.wet.len() {
            self.wet[cell] = self.water_kg(cell);
        }
        self.counted_kg = 0.0;
        self.condensed_kg = 0.0;
        self.result.coldest_c = f64::INFINITY;
        for piece in &mut self.result.pieces {
            piece.coldest_c = f64::INFINITY;
            piece.condensed_kg = 0.0;
        }
    }

    fn step(&mut self, leg: &Leg, flow: f64, air: Outlet) -> Option<()> {
        for index in 0..self.pieces.len() {
            let (first, end, _) = self.pieces[index];
            self.before[index] = self.sum(first, end);
        }
        let condensed = self.line.totals().condensed_kg;
        let inlet = Inlet { dry_air_kg_s: flow, t_c: air.t_c, w: air.w };
        let out = self.line.step(leg.seconds, inlet).ok()?;
        self.leaves = (flow, out);
        let settled = self.line.totals().condensed_kg - condensed;
        self.condensed_kg += settled;
        if !leg.counts {
            return Some(());
        }
        self.counted_kg += settled;
        self.result.full_kg_s = self.result.full_kg_s.max(flow);
        for (index, &(first, end, _)) in self.pieces.iter().enumerate() {
            let coldest = (first..end)
                .filter_map(|cell| self.line.wall_c(cell))
                .fold(f64::INFINITY, f64::min);
            let gained = (self.sum(first, end) - self.before[index]).max(0.0);
            let piece = &mut self.result.pieces[index];
            piece.coldest_c = piece.coldest_c.min(coldest);
            piece.condensed_kg += gained;
            self.result.coldest_c = self.result.coldest_c.min(coldest);
        }
        Some(())
    }

    fn sum(&self, first: usize, end: usize) -> f64 {
        (first..end).map(|cell| self.water_kg(cell)).sum()
    }

    /// Puts the day down; whether it left as much as the one before.
    fn end_day(&mut self, number: usize, showers: f64, seconds: f64) -> bool {
        let per_day = if seconds > 0.0 { 86_400.0 / seconds } else { 1.0 };
        let story = self.line.story_since(&self.day);
        let net = story.water_more_kg
            + story.frost_more_kg
            + story.drained_out_kg
            + story.drained_back_kg;
        let result = &mut self.result;
        result.net_kg = net * per_day;
        result.shower_kg = self.counted_kg / showers;
        result.drift_kg = (self.condensed_kg - self.counted_kg).max(0.0) * per_day;
        if number == 0 {
            result.frost_kg = self.line.frost_total_kg();
        }
        result.frosted = 1.0 - self.line.free_area_share();
        self.share_out(&story, per_day);
        let result = &mut self.result;
        // Pieces share what settled by what they gained, for water may have run from one to the next.
        let gained: f64 = result.pieces.iter().map(|piece| piece.condensed_kg).sum();
        if gained > 0.0 {
            let share = result.shower_kg / gained;
            for piece in &mut result.pieces {
                piece.condensed_kg *= share;
            }
        }
        self.fill_in_walls();
        let residual = self.line.residual();
        let result = &mut self.result;
        result.residual = residual.water.abs().max(residual.vapour.abs()).max(residual.heat.abs());
        result.closed |= self.line.closed_by_water();
        let alike = self.net_before_kg.is_some_and(|before| {
            (result.net_kg - before).abs() <= (SETTLED * before.abs()).max(SETTLED_KG)
        });
        result.settled = alike;
        self.net_before_kg = Some(result.net_kg);
        alike
    }

    /// Where no air of a shower passed, the walls as the day leaves them.
    fn fill_in_walls(&mut self) {
        for (index, &(first, end, _)) in self.pieces.iter().enumerate() {
            let walls = (first..end).filter_map(|cell| self.line.wall_c(cell));
            let piece = &mut self.result.pieces[index];
            if !piece.coldest_c.is_finite() {
                piece.coldest_c = walls.fold(f64::INFINITY, f64::min);
                self.result.coldest_c = self.result.coldest_c.min(piece.coldest_c);
            }
        }
    }

    /// Where the net water goes in the end: once a wall carries what it can, what a day adds runs off the way
    /// the piece falls, and frost does when it melts.
    fn share_out(&mut self, story: &Story, per_day: f64) {
        let mut back = story.drained_back_kg;
        let mut out = story.drained_out_kg;
        let mut stands = 0.0;
        for &(first, end, slope) in &self.pieces {
            let more: f64 = (first..end).map(|cell| self.water_kg(cell) - self.wet[cell]).sum();
            match slope {
                Slope::DrainsBack => back += more,
                Slope::DrainsOut => out += more,
                Slope::Level | Slope::Sag(_) => stands += more,
            }
        }
        self.result.back_kg = (back * per_day).max(0.0);
        self.result.out_kg = (out * per_day).max(0.0);
        self.result.stands_kg = (stands * per_day).max(0.0);
    }
}

/// All draws of the runs of one path.
pub(super) struct RunDays<'a> {
    pub likely: &'a RunDay,
    pub draws: Vec<&'a RunDay>,
}

impl RunDay {
    /// What does not leave by the outlet: runs back to the fan or stands, kg.
    pub(crate) fn stays_kg(&self) -> f64 {
        self.back_kg + self.stands_kg
    }
}

impl RunDays<'_> {
    pub(crate) fn sample(&self, of: impl Fn(&RunDay) -> f64) -> Sample {
        Sample { likely: of(self.likely), draws: self.draws.iter().map(|day| of(day)).collect() }
    }

    pub(crate) fn worst(&self, of: impl Fn(&RunDay) -> f64) -> f64 {
        self.draws.iter().map(|day| of(day)).fold(of(self.likely), f64::max)
    }

    pub(crate) fn chance(&self, so: impl Fn(&RunDay) -> bool) -> f64 {
        if self.draws.is_empty() {
            return f64::from(u8::from(so(self.likely)));
        }
        self.draws.iter().filter(|day| so(day)).count() as f64 / self.draws.len() as f64
    }
}

/// Dew point of the most humid air of the day, °C.
pub(super) fn room_dew_c(day: &Day) -> f64 {
    let peak = day.course.as_ref().map_or(0.0, |course| course.peak_w);
    Saturation::shared().dew_point_c(peak, day.pressure_pa)
}

/// Grams of so many kilograms.
pub(super) fn grams(kg: f64) -> f64 {
    1000.0 * kg
}
