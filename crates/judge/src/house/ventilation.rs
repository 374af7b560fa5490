//! Ventilation of the whole dwelling: the rate asked for, what is provided, and how long or how low
//! the job's fans would have to run to provide it.

use dewpath_air::leakage::{
    CREDIT, DEFAULT_EXPONENT, Envelope, Shelter, Storeys, basic_infiltration, infiltration_credit,
};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::{Sample, airflow, litres};
use dewpath_case::system::instance::leak_flow_50;
use dewpath_job::model::{Control, Operation, VentilationKind};
use dewpath_message::slot::{AirflowLS, Reference, ShareRatio, TimeH};
use dewpath_report::say::{
    DwellingVentilation, DwellingVentilationKey, DwellingVentilationOption,
    DwellingVentilationOptionKey, Missing, SourceText, Todo, TodoEachPeriod, TodoMoreVentilation,
    TodoRunLonger, TodoShortCycles, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Requirement, Source, Standing, Step, Triple,
    Verdict, WholeVentilation, WorkingInput,
};
use dewpath_rulebook::{Book, DwellingTrigger};
use dewpath_units::{Airflow, Density, Leakage50, Temperature, Velocity};

use super::ask::{Asked, ask};
use crate::law;
use crate::look_next::share;
use crate::verdict::by_chance;

const SECONDS_A_DAY: f64 = 86_400.0;
/// Steps of the search for the least share of run time; the share is then good to a few seconds a day.
const HALVINGS: usize = 24;
/// Shares at which a printed table of run-time factors is looked at before the search: its least
/// share is not asked for by name.
const LOOKS: usize = 100;

/// The ventilation of the dwelling, with a finding for the rate in force, and one for each book that is
/// shown beside where something is written that ventilates.
pub(crate) fn ventilation(
    case: &Case<'_>,
    asked: Option<&Asked>,
) -> (Option<WholeVentilation>, Vec<Finding>) {
    let rates = rates(case);
    let governing = rates.iter().find(|rate| rate.governs);
    let book = governing.map(|rate| rate.book);
    let written = Written::of(case);
    let fans = fans_of_job(case);
    let required = governing.map(|rate| rate.required);
    if required.is_none() && written.is_none() {
        return (None, Vec::new());
    }
    let hours = required.zip(fans.as_ref()).and_then(|(required, fans)| {
        let hours = |flow: f64| least_share(book, flow, required).map_or(f64::NAN, |s| 24.0 * s);
        let sample = fans.map(hours);
        sample.likely.is_finite().then(|| sample.triple())
    });
    let provided = written.as_ref().map(|written| written.worth(book));
    let result = WholeVentilation {
        required_l_s: required.map(litres),
        infiltration_credit_l_s: governing.and_then(|rate| credit(case, asked?, rate)).map(litres),
        provided_l_s: provided.as_ref().map(Sample::litres),
        hours_a_day_h: hours,
        continuous_l_s: required.map(litres),
    };
    let judged = rates.iter().filter_map(|rate| match &written {
        Some(written) => Some(finding(case, asked, rate, written)),
        // Without a figure for ventilation only a dwelling that was tested tight is told of it: codes ask new and tight ones, not every
        // house whose bath is redone.
        None => (is_tested_tight(case) && rate.governs).then(|| option(rate, hours)),
    });
    (Some(result), judged.collect())
}

/// A rate for the whole dwelling.
#[derive(Clone, Copy)]
struct Rate<'a> {
    rule: &'a Requirement,
    book: &'a Book,
    /// Continuous rate, L/s: from the least to the most where bedrooms or floor area are a range.
    asked: Triple,
    /// The most of it, m³/s, by which the rest is worked out.
    required: f64,
    /// Whether it is the one in force.
    governs: bool,
}

/// The rate in force, then the strictest of each book shown beside.
fn rates<'a>(case: &'a Case<'_>) -> Vec<Rate<'a>> {
    let of_dwelling = || case.required.list.iter().filter(|one| one.room.is_empty());
    let rate = |rule: &'a Requirement, book: &'a Book| {
        let asked = rule.airflow_l_s?;
        Some(Rate { rule, book, asked, required: asked.high / 1000.0, governs: rule.governs })
    };
    let in_force = case.world.rule_book.iter().filter_map(|book| {
        let rule = of_dwelling().find(|one| one.governs)?;
        rate(rule, book)
    });
    let beside = case.world.also_show.iter().filter_map(|book| {
        let own = of_dwelling()
            .filter(|one| one.guidance && one.source.book.text.starts_with(book.title()));
        let strictest = own.max_by(|a, b| {
            let flow = |one: &Requirement| one.airflow_l_s.map_or(0.0, |flow| flow.likely);
            flow(a).total_cmp(&flow(b))
        })?;
        rate(strictest, book)
    });
    in_force.chain(beside).collect()
}

/// What a book says of running for a share of the time: the factor on the continuous rate; plain
/// time where it has no table. `None` where the table does not go so far down.
fn factor(book: Option<&Book>, share: f64) -> Option<f64> {
    match book.and_then(|book| book.run_time_factor(share).into_known()) {
        Some(ruled) => ruled.value,
        None => (share > 0.0).then(|| 1.0 / share),
    }
}

/// Least share of the time in which a flow gives a continuous rate, m³/s.
fn least_share(book: Option<&Book>, flow_m3_s: f64, required_m3_s: f64) -> Option<f64> {
    let enough =
        |share: f64| factor(book, share).is_some_and(|f| flow_m3_s >= required_m3_s * f - 1e-9);
    if !enough(1.0) {
        return None;
    }
    let step = |i: usize| i as f64 / LOOKS as f64;
    let first = (1..=LOOKS).find(|&i| enough(step(i)))?;
    let (mut low, mut high) = (step(first - 1), step(first));
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if enough(middle) { high = middle } else { low = middle }
    }
    Some(high)
}

/// What is written to ventilate the dwelling.
struct Written {
    /// Flow of the ventilation while it runs, m³/s.
    flow: Sample,
    /// Share of the time; all of it where nobody wrote how long.
    share: Sample,
    /// Whether somebody wrote how long.
    hours_known: bool,
    /// Flow of the fans that run all the time, m³/s.
    continuous: Option<Sample>,
}

impl Written {
    fn of(case: &Case<'_>) -> Option<Self> {
        let ventilation = &case.job.dwelling.ventilation;
        let none = given::options(&ventilation.kind) == [VentilationKind::None];
        let continuous = continuous_fans(case);
        let mut inputs = case.inputs.beside(case.inputs.draws());
        let at = ask("dwelling.ventilation.airflow", What::VentilationFlow, 0.0);
        let flow = inputs.where_written(&at, &ventilation.airflow, airflow).filter(|_| !none);
        let Some(flow) = flow else {
            // A bath fan that never stops ventilates its room; that it is there for the whole dwelling somebody has to say.
            let is_meant = given::options(&ventilation.kind).contains(&VentilationKind::Exhaust);
            let continuous = continuous.filter(|_| is_meant || none || is_tested_tight(case));
            let runs = continuous.is_some();
            return (runs || none).then(|| Self {
                flow: continuous.unwrap_or_else(|| Sample::exact(0.0)),
                share: Sample::exact(if runs { 1.0 } else { 0.0 }),
                hours_known: true,
                continuous: None,
            });
        };
        let at = ask("dwelling.ventilation.hours_per_day", What::RunShare, 0.0);
        let hours = inputs.where_written(&at, &ventilation.hours_per_day, |s| {
            Figure::TimeH(s.map(|s| s / 3600.0))
        });
        let of_day = |id, draw| (inputs.value(id, draw) / SECONDS_A_DAY).clamp(0.0, 1.0);
        Some(Self {
            flow: Sample::of(&inputs, |draw| inputs.value(flow, draw)),
            share: hours.map_or_else(
                || Sample::exact(1.0),
                |id| Sample::of(&inputs, |draw| of_day(id, draw)),
            ),
            hours_known: hours.is_some(),
            continuous,
        })
    }

    /// Continuous flow that it is worth, m³/s: running for a share of the time counts as the book says, and as the plain mean where it
    /// counts nothing.
    fn worth(&self, book: Option<&Book>) -> Sample {
        self.by_share(|share| factor(book, share).map_or(share, |f| 1.0 / f))
    }

    /// The part of it that a book counts, m³/s.
    fn counted(&self, book: &Book) -> Sample {
        self.by_share(|share| factor(Some(book), share).map_or(0.0, |f| 1.0 / f))
    }

    fn by_share(&self, worth: impl Fn(f64) -> f64) -> Sample {
        let own = self.flow.with(&self.share, |q, share| q * worth(share));
        match &self.continuous {
            Some(more) => own.with(more, |a, b| a + b),
            None => own,
        }
    }

    /// Whether it rests at times.
    fn rests(&self) -> bool {
        self.share.triple().low < 1.0
    }
}

/// Air of the fans that are said to run all the time, at their low setting where they have one.
fn continuous_fans(case: &Case<'_>) -> Option<Sample> {
    let flows = case.flows?;
    let mut sum: Option<Sample> = None;
    for (index, fan) in case.job.fans.iter().enumerate() {
        let Some((flow, _)) = &flows.fans[index] else { continue };
        let low = given::likely(&fan.settings.low_flow).map(dewpath_units::Ratio::ratio);
        let always = given::member(&fan.control) == Some(Control::Continuous)
            || case.job.rooms.iter().any(|room| {
                fan.room.as_ref() == Some(&room.id)
                    && given::member(&room.operation) == Some(Operation::Continuous)
            });
        let part = match (low, always) {
            (Some(low), _) => low,
            (None, true) => 1.0,
            (None, false) => continue,
        };
        let flow = flow.map(|q| q * part);
        sum = Some(match sum {
            Some(before) => before.with(&flow, |a, b| a + b),
            None => flow,
        });
    }
    sum
}

/// Air of all fans of the job.
fn fans_of_job(case: &Case<'_>) -> Option<Sample> {
    let flows = case.flows?;
    let known = flows.fans.iter().flatten().map(|(flow, _)| flow.clone());
    known.reduce(|sum, flow| sum.with(&flow, |a, b| a + b))
}

/// What the book lets natural infiltration count for, where the leakage was measured, m³/s.
fn credit(case: &Case<'_>, asked: &Asked, rate: &Rate<'_>) -> Option<f64> {
    let most = rate.book.infiltration_credit_most().into_known()?;
    let dwelling = &case.job.dwelling;
    if !given::is_known(&dwelling.air_changes) && !given::is_known(&dwelling.leakage) {
        return None;
    }
    let flow_50 = leak_flow_50(&asked.leak, &asked.inputs, Draw::Likely)?;
    let envelope =
        Envelope::from_leakage50(Leakage50::from_m3_s(flow_50), DEFAULT_EXPONENT).ok()?;
    let density = case.flows.map_or(1.2, |flows| flows.density.likely);
    let area = envelope.effective_leakage_area(Density::from_kg_m3(density)).ok()?;
    let indoor = case.inputs.value(case.system.air.indoor, Draw::Likely);
    let difference = (indoor - asked.outdoor_k(Draw::Likely)).abs();
    let storeys = if asked.storeys(Draw::Likely) > 1.5 { Storeys::Two } else { Storeys::One };
    let natural = basic_infiltration(
        area,
        storeys,
        Shelter::Heavy,
        Temperature::from_k(difference),
        Velocity::from_m_s(asked.wind_m_s(Draw::Likely)),
    )
    .ok()?;
    // The fan has to bring the rest; what counts depends on it in turn, so take it at the whole rate.
    let counted = infiltration_credit(natural, Airflow::from_m3_s(rate.required)).m3_s();
    Some(counted.min(most.value * rate.required))
}

/// What a miss amounts to: a rule only where the book in force asks every dwelling, or this one, for it.
fn broken(case: &Case<'_>, rate: &Rate<'_>) -> Verdict {
    if !rate.governs {
        return Verdict::Caution;
    }
    match case.rule(Book::dwelling_trigger).map(|rule| rule.value) {
        Some(DwellingTrigger::Always) => Verdict::Fails,
        Some(DwellingTrigger::TestedUpTo(_)) if is_tested_tight(case) => Verdict::Fails,
        Some(DwellingTrigger::TestedUpTo(_)) | None => Verdict::Caution,
    }
}

/// Whether the dwelling was tested at no more than the leakage from which the book asks for ventilation.
fn is_tested_tight(case: &Case<'_>) -> bool {
    let Some(DwellingTrigger::TestedUpTo(most)) =
        case.rule(Book::dwelling_trigger).map(|rule| rule.value)
    else {
        return false;
    };
    let tested = given::bounds(&case.job.dwelling.air_changes);
    tested.is_some_and(|(_, high)| high.per_h() <= most.per_h())
}

/// Share that the book takes off the rate for balanced air, where what is written may earn it.
fn balanced_share(case: &Case<'_>, rate: &Rate<'_>) -> Option<f64> {
    let balanced =
        given::options(&case.job.dwelling.ventilation.kind) == [VentilationKind::Balanced];
    balanced.then(|| rate.book.balanced_credit().into_known().map(|rule| rule.value)).flatten()
}

/// What a rate makes of what is written.
struct Judged {
    verdict: Verdict,
    /// Chance that it is enough; none where there are no draws, or where it is not known what is asked for.
    chance: Option<f64>,
    /// Continuous flow that is provided, m³/s.
    worth: Sample,
    credit: Option<f64>,
    /// Things that would have to be known before the verdict could be another.
    open: Vec<Message>,
}

fn judge(case: &Case<'_>, asked: Option<&Asked>, rate: &Rate<'_>, written: &Written) -> Judged {
    let worth = written.worth(Some(rate.book));
    let over = written.counted(rate.book).map(|q| q - rate.required);
    let passes: Vec<bool> = if over.draws.is_empty() {
        vec![over.likely >= -1e-7]
    } else {
        over.draws.iter().map(|over| *over >= -1e-7).collect()
    };
    let chance = share(&passes);
    let mut verdict = by_chance(chance, broken(case, rate), &rate.rule.source, &case.job.settings);
    let credit = asked.and_then(|asked| credit(case, asked, rate));
    let mut open = Vec::new();
    if matches!(verdict, Verdict::Fails | Verdict::Caution) {
        if credit.is_some_and(|credit| over.likely + credit >= 0.0) {
            verdict = Verdict::Unknown;
        }
        let off = balanced_share(case, rate);
        if off.is_some_and(|off| over.likely + off * rate.required >= 0.0) {
            verdict = Verdict::Unknown;
            open.push(Message::from(Todo::BalancedSupply));
        }
    }
    if verdict == Verdict::Holds && !written.hours_known {
        verdict = Verdict::Unknown;
        open.push(Message::from(Todo::WriteHours));
    }
    // A mean over the day is no rule of a book that prints no factors.
    let by_table = rate.book.run_time_factor(1.0).value().is_some();
    if verdict == Verdict::Holds && written.rests() && !by_table {
        verdict = Verdict::Unknown;
        open.push(Message::from(TodoShortCycles { book: Reference::new(rate.book.title()) }));
    }
    let chance = (case.inputs.draws() > 0).then_some(chance);
    Judged { verdict, chance, worth, credit, open }
}

/// What a rate makes of what is written, open where the least that it may be is met and the most is not.
fn judge_range(
    case: &Case<'_>,
    asked: Option<&Asked>,
    rate: &Rate<'_>,
    written: &Written,
) -> Judged {
    let judged = judge(case, asked, rate, written);
    let least = Rate { required: rate.asked.low / 1000.0, ..*rate };
    if least.required >= rate.required {
        return judged;
    }
    if judge(case, asked, &least, written).verdict == judged.verdict {
        return judged;
    }
    let bedrooms = given::count_bounds(&case.job.dwelling.bedrooms);
    let missing = match bedrooms {
        Some((low, high)) if low < high => Missing::Bedrooms,
        _ => Missing::DwellingArea,
    };
    Judged { verdict: Verdict::Unknown, chance: None, open: vec![missing.into()], ..judged }
}

fn finding(case: &Case<'_>, asked: Option<&Asked>, rate: &Rate<'_>, written: &Written) -> Finding {
    let limit = AirflowLS(rate.asked);
    let source = rate.rule.source.clone();
    let judged = judge_range(case, asked, rate, written);
    let verdict = judged.verdict;
    let figure = AirflowLS(judged.worth.litres());
    let key = match verdict {
        Verdict::Holds => DwellingVentilationKey::Holds,
        Verdict::Unknown if !written.hours_known => DwellingVentilationKey::HoursUnknown,
        Verdict::Unknown => DwellingVentilationKey::Unknown,
        Verdict::Fails | Verdict::Caution => DwellingVentilationKey::Short,
    };
    let mut message = DwellingVentilation {
        key,
        worth: figure,
        flow: AirflowLS(written.flow.litres()),
        share: ShareRatio(written.share.triple()),
        required: limit,
        needed: None,
        credit: None,
        table: None,
        least: None,
        book: None,
    };
    let likely_share = written.share.likely;
    if let Some(factor) = factor(Some(rate.book), likely_share).filter(|_| written.rests()) {
        let needed = Triple::exact(litres(rate.required * factor));
        message.needed = Some(AirflowLS(needed));
    }
    if factor(Some(rate.book), likely_share).is_none() {
        // The share from which the book counts anything: there the largest flow is enough.
        let least = least_share(Some(rate.book), f64::INFINITY, rate.required);
        message.table = Some(Reference::new(rate.book.title()));
        message.least = least.map(|least| ShareRatio(Triple::exact(least)));
    }
    if let Some(credit) = judged.credit.filter(|_| verdict != Verdict::Holds) {
        message.credit = Some(AirflowLS(Triple::exact(litres(credit))));
    }
    if !rate.governs {
        message.book = Some(Reference::new(rate.book.title()));
    }
    let mut finding =
        Finding::new(Check::DwellingVentilation, "dwelling", verdict, message, source.clone())
            .figure(figure)
            .limit(limit);
    finding.chance = judged.chance.filter(|_| case.inputs.tells_chance());
    finding.working = working(rate, written, judged.credit, figure.into());
    finding.todo = judged.open;
    let period = rate.book.run_time_period().into_known();
    if let Some(period) = period.filter(|_| written.rests() && likely_share > 0.0) {
        let period = TimeH(Triple::exact(period.value.s() / 3600.0));
        finding.todo.push(Message::from(TodoEachPeriod { period }));
    }
    if verdict != Verdict::Holds && written.hours_known {
        let least = least_share(Some(rate.book), written.flow.likely, rate.required);
        finding = match least.filter(|least| *least > written.share.likely) {
            Some(least) => finding.todo(TodoRunLonger { minutes: TimeH(Triple::exact(least)) }),
            None if least.is_some() => finding,
            None => finding.todo(TodoMoreVentilation { flow: limit }),
        };
    }
    finding.todo.extend(crate::verdict::confirm_source(&source, verdict));
    finding
}

/// Nothing is written to give the rate: what the job's fans could do.
fn option(rate: &Rate<'_>, hours: Option<Triple>) -> Finding {
    let limit = AirflowLS(rate.asked);
    let source = rate.rule.source.clone();
    let key = match hours {
        Some(_) => DwellingVentilationOptionKey::Option,
        None => DwellingVentilationOptionKey::NotWritten,
    };
    let mut message = DwellingVentilationOption { key, required: limit, hours: None };
    if let Some(hours) = hours {
        message.hours = Some(TimeH(hours));
    }
    let verdict =
        if source.standing == Standing::FromMemory { Verdict::Unknown } else { Verdict::Caution };
    Finding::new(Check::DwellingVentilation, "dwelling", verdict, message, source)
        .limit(limit)
        .todo(Todo::WriteVentilation)
}

fn working(rate: &Rate<'_>, written: &Written, credit: Option<f64>, worth: Figure) -> Vec<Step> {
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Written)
    };
    let table = rate.book.run_time_factor(written.share.likely).into_known();
    let table = table.filter(|rule| rule.value.is_some());
    let mut steps = rate.rule.working.clone();
    steps.push(Step {
        equation: if table.is_some() { "q_c = q / f(s)" } else { "q_c = q s" }.into(),
        inputs: vec![
            input("q", What::VentilationFlow, Figure::AirflowLS(written.flow.litres())),
            input("s", What::RunShare, Figure::ShareRatio(written.share.triple())),
        ],
        result: Some(worth),
        source: table.as_ref().map_or_else(
            || Source::confirmed(SourceText::ShareOfTime, SourceText::PlainMean),
            dewpath_case::source::ruled,
        ),
    });
    if let Some(credit) = credit {
        let flow = Figure::AirflowLS(Triple::exact(litres(credit)));
        steps.push(law::step(&CREDIT, Vec::new(), Some(flow)));
    }
    steps
}
