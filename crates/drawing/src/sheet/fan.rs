//! The curve of a fan, the curve of what it blows through, and where they meet.

use dewpath_job::model::Job;
use dewpath_report::{
    Crossing, FanCurves, Figure, Message, OperatingPoint, Report, Requirement, Triple,
};

use crate::board::Board;
use crate::chart::{Axis, Plot};
use crate::paper::{Page, Sheet};
use crate::pen::Layer;
use crate::scene::{Rect, Spot};
use crate::voice::Voice;

/// A fan against what it blows through.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FanView {
    /// Fan, by its id.
    pub fan: String,
    /// Pressure the fan makes at a flow in litres a second, in order of flow.
    pub curve: Vec<(f64, Triple)>,
    /// Flow through the rest at a pressure in pascals, in order of pressure.
    pub run: Vec<(f64, Triple)>,
    /// Where they meet.
    pub point: Option<OperatingPoint>,
    /// Where they meet besides.
    pub others: Vec<Crossing>,
    /// Flow that is asked for, litres a second.
    pub required_l_s: Option<f64>,
}

impl FanView {
    /// The curves of a fan with what the report says of it; what is asked for is known where it serves one room.
    pub fn of_curves(curves: &FanCurves, report: &Report, job: Option<&Job>) -> Self {
        let result = report.fans.iter().find(|fan| fan.id == curves.fan);
        let room = job
            .and_then(|job| job.fans.iter().find(|fan| fan.id == curves.fan))
            .and_then(|fan| fan.room.as_ref());
        let required = room.and_then(|room| {
            let governs = |r: &&Requirement| r.governs && r.room == *room;
            report.requirement.iter().find(governs)?.airflow_l_s
        });
        Self {
            fan: curves.fan.clone(),
            curve: curves.curve.iter().map(|p| (p.airflow_l_s, p.pressure_pa)).collect(),
            run: curves.system.iter().map(|p| (p.pressure_pa, p.airflow_l_s)).collect(),
            point: result.and_then(|fan| fan.operating_point),
            others: result.map(|fan| fan.other_crossings.clone()).unwrap_or_default(),
            required_l_s: required.map(|t| t.likely),
        }
    }
}

/// Draws a fan against its run. None when nothing is known of either.
pub fn fan(voice: &Voice, page: Page, view: &FanView) -> Option<Sheet> {
    if view.curve.len() < 2 && view.run.len() < 2 {
        return None;
    }
    let name = format!("fan-{}", view.fan);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.fan.title"), &view.fan);
    board.describe(describes(voice, view));
    let to = |l_s: f64, pa: f64| [voice.airflow(l_s), voice.pressure(pa)];
    let curve = Lines::of(&view.curve, to);
    let run = Lines::of(&view.run, |pa, flow| to(flow, pa));
    // The axes hold the point in all its width, and the fan from shut-off to free flow.
    let of_point = view.point.into_iter().flat_map(|p| {
        let (q, pa) = (p.airflow_l_s, p.pressure_pa);
        [to(q.low, pa.low), to(q.likely, pa.likely), to(q.high, pa.high)]
    });
    let of_others = view.others.iter().map(|c| to(c.airflow_l_s, c.pressure_pa));
    let driven = curve.all().filter(|p| p[1] >= 0.0);
    let held: Vec<Spot> = of_point.chain(of_others).chain(driven).chain([[0.0, 0.0]]).collect();
    let required = view.required_l_s.map(|q| voice.airflow(q));
    let flows = held.iter().map(|p| p[0]).chain(required);
    let x = Axis::over(flows, if board.inner_width() > 120.0 { 8.0 } else { 5.0 });
    let y = Axis::over(held.iter().map(|p| p[1]), 6.0);
    let titles = [
        format!("{}, {}", voice.word("draw.fan.airflow"), voice.airflow_unit()),
        format!("{}, {}", voice.word("draw.fan.pressure"), voice.pressure_unit()),
    ];
    let height = if board.inner_width() > 120.0 { 110.0 } else { 90.0 };
    let plot = Plot::new(&mut board, height, (x, &titles[0]), (y, &titles[1]));
    for (lines, rising) in [(&curve, true), (&run, false)] {
        if lines.spreads {
            plot.band(&mut board, &lines.low, &lines.high, rising);
        }
    }
    plot.curve(&mut board, Layer::Curve, &curve.likely);
    plot.curve(&mut board, Layer::Against, &run.likely);
    if let Some(required) = view.required_l_s {
        let x = voice.airflow(required);
        let (foot, top) = (plot.at([x, y.low]), plot.at([x, y.high]));
        board.line(Layer::Limit, foot, top);
        let text = Message::new("draw.fan.required")
            .figure("airflow", Figure::AirflowLS(Triple::exact(required)));
        board.label(&voice.say(&text), [top[0], top[1] + 4.0]);
    }
    for other in &view.others {
        let at = plot.at(to(other.airflow_l_s, other.pressure_pa));
        board.scene.circle(Layer::Axis, at, 1.1);
        let key = if other.stable { "draw.fan.stable" } else { "draw.fan.unstable" };
        board.label_from(&voice.word(key), at, 1.2);
    }
    if let Some(point) = view.point {
        meeting(&mut board, &plot, point);
    }
    name_curve(&mut board, &plot, &curve.likely, "draw.fan.curve");
    name_curve(&mut board, &plot, &run.likely, "draw.fan.run");
    if curve.spreads || run.spreads {
        board.note(voice.word("draw.fan.band"));
    }
    Some(board.finish())
}

fn describes(voice: &Voice, view: &FanView) -> String {
    let message = match view.point {
        Some(point) => Message::new("draw.fan.about")
            .figure("airflow", Figure::AirflowLS(point.airflow_l_s))
            .figure("pressure", Figure::PressurePa(point.pressure_pa)),
        None => Message::new("draw.fan.about-open"),
    };
    voice.say(&message.name("fan", view.fan.as_str()))
}

/// The point where both meet, and the box of its low and high.
fn meeting(board: &mut Board, plot: &Plot, point: OperatingPoint) {
    let voice = board.voice.clone();
    let at = |flow: f64, pa: f64| plot.at([voice.airflow(flow), voice.pressure(pa)]);
    let (q, p) = (point.airflow_l_s, point.pressure_pa);
    if !q.is_exact() || !p.is_exact() {
        let (a, b) = (at(q.low, p.high), at(q.high, p.low));
        let rect = Rect { min: a, max: b };
        board.path(Layer::Spread, &[rect.corners().as_slice(), &[a]].concat());
    }
    let middle = at(q.likely, p.likely);
    board.scene.circle(Layer::Axis, middle, 1.0);
    board.scene.circle(Layer::Axis, middle, 0.4);
    let text = Message::new("draw.fan.point")
        .reference("airflow", voice.likely(Figure::AirflowLS(q)))
        .reference("pressure", voice.likely(Figure::PressurePa(p)));
    board.label_from(&voice.say(&text), middle, 1.2);
}

/// Names a curve where it is well inside the chart, away from where the curves meet.
fn name_curve(board: &mut Board, plot: &Plot, points: &[Spot], key: &str) {
    let paper: Vec<Spot> = points.iter().map(|p| plot.at(*p)).collect();
    let inside: Vec<Spot> = paper
        .into_iter()
        .filter(|p| plot.area.grown(-3.0).holds(&Rect { min: *p, max: *p }))
        .collect();
    if let Some(at) = inside.get(inside.len() / 4) {
        let text = board.voice.word(key);
        board.label(&text, *at);
    }
}

/// A likely curve between two others.
struct Lines {
    low: Vec<Spot>,
    likely: Vec<Spot>,
    high: Vec<Spot>,
    spreads: bool,
}

impl Lines {
    fn of(points: &[(f64, Triple)], at: impl Fn(f64, f64) -> Spot) -> Self {
        let line = |pick: fn(&Triple) -> f64| -> Vec<Spot> {
            points.iter().map(|(along, t)| at(*along, pick(t))).collect()
        };
        Self {
            low: line(|t| t.low),
            likely: line(|t| t.likely),
            high: line(|t| t.high),
            spreads: points.iter().any(|(_, t)| !t.is_exact()),
        }
    }

    fn all(&self) -> impl Iterator<Item = Spot> + '_ {
        self.low.iter().chain(&self.likely).chain(&self.high).copied()
    }
}
