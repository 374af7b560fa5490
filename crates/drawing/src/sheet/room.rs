//! Humidity of a room: through a shower, and through a year.

use dewpath_report::{Figure, Message, RoomResult, RoomYear, ShowerCourse};

use crate::board::Board;
use crate::chart::{Axis, Plot};
use crate::paper::{Page, Sheet};
use crate::pen::Layer;
use crate::scene::{Rect, Spot};
use crate::voice::Voice;

/// A room through its shower.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RoomTrace {
    /// Room, by its id.
    pub id: String,
    /// Room, by its name.
    pub room: String,
    /// Minutes and relative humidity, 0 to 1, in order of time.
    pub humidity: Vec<(f64, f64)>,
    /// Low and high of the humidity, where they are known: minutes, low, high.
    pub spread: Vec<(f64, f64, f64)>,
    /// Showers: first and last minute.
    pub showers: Vec<(f64, f64)>,
    /// Minute in which the mirror is clear.
    pub mirror_clear: Option<f64>,
}

impl RoomTrace {
    /// A course of the engine, with the time that the report gives for the mirror.
    pub fn of_course(course: &ShowerCourse, room: &RoomResult) -> Self {
        let minutes = |seconds: f64| seconds / 60.0;
        let mut showers: Vec<(f64, f64)> = Vec::new();
        let mut runs = false;
        for point in &course.points {
            let minute = minutes(point.time_s);
            match (runs, point.shower, showers.last_mut()) {
                (false, true, _) => showers.push((minute, minute)),
                (true, _, Some(last)) => last.1 = minute,
                _ => {}
            }
            runs = point.shower;
        }
        let end = showers.last().map(|(_, to)| *to);
        // A time as long as what was followed means that the mirror did not clear.
        let clear = room.clearing.as_ref().and_then(|clearing| {
            let likely = clearing.mirror_time_s.likely;
            (likely > 0.0 && likely < clearing.followed_s).then_some(minutes(likely))
        });
        Self {
            id: room.id.clone(),
            room: if room.name.is_empty() { room.id.clone() } else { room.name.clone() },
            humidity: course.points.iter().map(|p| (minutes(p.time_s), p.humidity_ratio)).collect(),
            spread: Vec::new(),
            showers,
            mirror_clear: end.zip(clear).map(|(end, after)| end + after),
        }
    }
}

/// Draws a room through its shower. None without a trace.
pub fn trace(voice: &Voice, page: Page, view: &RoomTrace) -> Option<Sheet> {
    if view.humidity.len() < 2 {
        return None;
    }
    let name = format!("room-{}", view.id);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.room.title"), &view.room);
    board.describe(voice.say(&Message::new("draw.room.about").name("room", view.room.as_str())));
    let marks = view.showers.iter().flat_map(|(from, to)| [*from, *to]).chain(view.mirror_clear);
    let minutes = view.humidity.iter().map(|(minute, _)| *minute).chain(marks);
    let x = Axis::over(minutes, if board.inner_width() > 120.0 { 10.0 } else { 6.0 });
    let y = Axis::over([0.0, 100.0], 5.0);
    let titles = [voice.word("draw.room.minutes"), voice.word("draw.room.humidity")];
    let plot = Plot::new(&mut board, 80.0, (x, &titles[0]), (y, &titles[1]));
    for (from, to) in &view.showers {
        let (a, b) = (plot.at([*from, 6.0]), plot.at([*to, 0.0]));
        let bar = Rect { min: a, max: b };
        board.scene.polygon(Layer::Bar, bar.corners());
        board.scene.hatch(Layer::Bar, &bar.corners(), 1.2, false);
        board.places.take(bar);
    }
    if view.spread.len() > 1 {
        let low: Vec<Spot> = view.spread.iter().map(|(t, low, _)| [*t, 100.0 * low]).collect();
        let high: Vec<Spot> = view.spread.iter().map(|(t, _, high)| [*t, 100.0 * high]).collect();
        plot.band(&mut board, &low, &high, true);
    }
    let line: Vec<Spot> = view.humidity.iter().map(|(t, phi)| [*t, 100.0 * phi]).collect();
    plot.curve(&mut board, Layer::Curve, &line);
    if let Some(minute) = view.mirror_clear {
        let (foot, top) = (plot.at([minute, 0.0]), plot.at([minute, 100.0]));
        board.line(Layer::Limit, foot, top);
    }
    if let Some((from, to)) = view.showers.first() {
        board.label(&voice.word("draw.room.shower"), plot.at([0.5 * (from + to), 7.0]));
    }
    if let Some(minute) = view.mirror_clear {
        board.label(&voice.word("draw.room.mirror"), plot.at([minute, 92.0]));
    }
    Some(board.finish())
}

/// Draws a room month by month. None without months.
pub fn year(voice: &Voice, page: Page, room: &RoomResult) -> Option<Sheet> {
    let year: &RoomYear = room.year.as_ref()?;
    if year.months.is_empty() {
        return None;
    }
    let name = format!("year-{}", room.id);
    let subject = if room.name.is_empty() { &room.id } else { &room.name };
    let mut board = Board::new(voice, page, &name, &voice.word("draw.year.title"), subject);
    board.describe(voice.say(&Message::new("draw.year.about").name("room", subject.as_str())));
    let month = voice.word("draw.year.month");
    let x = Axis::months();
    let humidity = |pick: fn(&dewpath_report::RoomMonth) -> f64| -> Vec<Spot> {
        year.months.iter().map(|m| [f64::from(m.month), 100.0 * pick(m)]).collect()
    };
    let y = Axis::over([0.0, 100.0], 5.0);
    let plot = Plot::new(&mut board, 62.0, (x, &month), (y, &voice.word("draw.room.humidity")));
    let (room_line, house_line) =
        (humidity(|m| m.humidity_ratio), humidity(|m| m.dwelling_humidity_ratio));
    plot.curve(&mut board, Layer::Curve, &room_line);
    plot.curve(&mut board, Layer::Against, &house_line);
    for (line, key) in [(&room_line, "draw.year.room"), (&house_line, "draw.year.dwelling")] {
        if let Some(at) = line.get(line.len() / 2) {
            board.label(&voice.word(key), plot.at(*at));
        }
    }
    board.note(voice.word("draw.year.lines"));
    columns(
        &mut board,
        &voice.word("draw.year.hours"),
        year.months.iter().map(|m| m.hours_above_80_h),
    );
    columns(&mut board, &voice.word("draw.year.mould"), year.months.iter().map(|m| m.mould_ratio));
    columns(&mut board, &voice.word("draw.year.fan"), year.months.iter().map(|m| m.fan_h));
    let energy: Option<Vec<f64>> = year.months.iter().map(|m| m.energy_kwh).collect();
    if let Some(energy) = energy {
        columns(&mut board, &voice.word("draw.year.energy"), energy.into_iter());
    }
    let index = Figure::MouldRatio(year.mould_peak_ratio);
    board.note(voice.say(&Message::new("draw.year.peak").figure("index", index)));
    Some(board.finish())
}

/// Twelve columns, January first.
pub(crate) fn columns(board: &mut Board, title: &str, values: impl Iterator<Item = f64> + Clone) {
    let month = board.voice.word("draw.year.month");
    let x = Axis::months();
    let y = Axis::over(values.clone().chain([0.0]), 3.0);
    let plot = Plot::new(board, 42.0, (x, &month), (y, title));
    for (place, value) in values.enumerate() {
        let middle = place as f64 + 1.0;
        let (a, b) =
            (plot.at([middle - 0.3, value.max(0.0)]), plot.at([middle + 0.3, value.min(0.0)]));
        let bar = Rect { min: a, max: b };
        board.scene.polygon(Layer::Bar, bar.corners());
        board.scene.hatch(Layer::Bar, &bar.corners(), 1.2, true);
    }
}
