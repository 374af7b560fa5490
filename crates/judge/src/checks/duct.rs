//! Checks on runs: the published length table, the fan maker's longest run, size, make, joining,
//! support, insulation, speed of the air.

use dewpath_air::duct_leakage::{SHARE, fraction_lost};
use dewpath_air::flex::CRUSHED;
use dewpath_case::Case;
use dewpath_case::flow::Flows;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_case::source;
use dewpath_case::system::fan;
use dewpath_case::system::spec::{Owner, Spec};
use dewpath_job::model::{
    DuctGiven, DuctKind, ElbowMake, ExhaustKind, PartKind, Pull, Run, RunShape, Surroundings,
    TerminalKind,
};
use dewpath_message::slot::{
    AirflowLS, ChanceRatio, Count, DiameterMm, GapMm, InsulationRsi, LengthM, Name, PressurePa,
    ShareRatio, VelocityMS, Word,
};
use dewpath_message::{Citation, Text, Value};
use dewpath_report::say::{
    DuctBendTight, DuctCrushed, DuctFlex, DuctFlexKey, DuctGarage, DuctGarageKey, DuctGauge,
    DuctGaugeKey, DuctInsulation, DuctInsulationKey, DuctJoined, DuctJoinedFans, DuctJoinedKey,
    DuctJoinedRooms, DuctLengthEquivalent, DuctLengthEquivalentKey, DuctLengthLongest,
    DuctLengthTable, DuctLengthTableKey, DuctLengthTableNoRating, DuctMaterial, DuctRiser,
    DuctSealing, DuctSealingKey, DuctSizeOutlet, DuctSizeOutletKey, DuctSupport, DuctSupportKey,
    DuctVelocity, DuctVelocityKey, SourceText, Todo, TodoInsulate, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Source, Standing, Step, Triple, Verdict,
    WorkingInput,
};
use dewpath_rulebook::{
    Answer, Book, DuctKind as TableDuct, InsulationAsked, Limit, Ruled, TableLimit,
};
use dewpath_units::{Airflow, Area, Length, Pressure};

use crate::law;
use crate::look_next::share;
use crate::verdict::confirm_source;
use crate::verdict::{REMEMBERED, by_chance, judged};

/// Findings on every run.
pub fn duct(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, run) in case.job.runs.iter().enumerate() {
        findings.extend(length_table(case, index, run));
        findings.extend(equivalent_length(case, index, run));
        findings.extend(longest_run(case, index, run));
        findings.extend(smaller_than_outlet(case, index, run));
        findings.extend(flexible(case, index, run));
        findings.extend(crushed(case, index, run));
        findings.extend(make(case, run));
        findings.extend(supports(case, run));
        findings.extend(insulation(case, run));
        findings.extend(velocity(case, index, run));
        findings.extend(sealing(case, index, run));
    }
    findings.extend(joined(case));
    findings
}

/// What the elbows, straights and sizes of a run come to in a draw.
struct Tally {
    straight_m: f64,
    flex_m: f64,
    elbows: f64,
    smallest_m: f64,
    smallest_m2: f64,
    surface_m2: f64,
    any_flex: bool,
}

fn tally(case: &Case<'_>, run: usize, draw: Draw) -> Tally {
    let inputs = case.inputs;
    let mut sum = Tally {
        straight_m: 0.0,
        flex_m: 0.0,
        elbows: 0.0,
        smallest_m: f64::INFINITY,
        smallest_m2: f64::INFINITY,
        surface_m2: 0.0,
        any_flex: false,
    };
    for (_, item) in case.system.items() {
        let Owner::Part { run: owner, .. } = item.owner else { continue };
        if owner != run {
            continue;
        }
        match &item.spec {
            Spec::Piece { duct, length } => {
                let length = inputs.value(*length, draw);
                let size = duct.size.value(inputs, draw);
                sum.narrow(size);
                sum.surface_m2 += section::perimeter_m(size) * length;
                sum.straight_m += length;
                if is_flex(duct.kind.value(inputs, draw)) {
                    sum.any_flex = true;
                    sum.flex_m += length;
                }
            }
            Spec::Elbow { count, angle, size, .. } => {
                sum.narrow(size.value(inputs, draw));
                let count = count.map_or(1.0, |id| inputs.value(id, draw));
                // The table counts elbows, whatever their angle; a slight bend is none.
                let turns = inputs.value(*angle, draw) > 0.35;
                sum.elbows += if turns { count } else { 0.0 };
            }
            _ => {}
        }
    }
    sum
}

impl Tally {
    fn narrow(&mut self, size: dewpath_job::model::Section) {
        self.smallest_m = self.smallest_m.min(section::hydraulic_m(size));
        self.smallest_m2 = self.smallest_m2.min(section::area_m2(size));
    }
}

fn is_flex(kind: DuctKind) -> bool {
    matches!(kind, DuctKind::Flex | DuctKind::SemiRigid)
}

/// The published table: a miss is advice, for two ways out exist; a passing measurement closes it.
fn length_table(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let book = case.world.rule_book.as_ref()?;
    let rated_at = book.duct_table_rating().into_known()?;
    let source = source::ruled(&rated_at);
    let fans = case.fans_of(run);
    // The table is for a run from a fan to outdoors.
    if fans.is_empty() || !case.job.terminals.iter().any(|terminal| terminal.id == run.to) {
        return None;
    }
    let rated: Option<f64> = fans
        .iter()
        .map(|&fan| fan::rated_flow_m3_s(&case.job.fans[fan].data, rated_at.value.pa()))
        .sum::<Option<f64>>();
    let on_box: Option<f64> =
        fans.iter().map(|&fan| fan::box_flow_m3_s(&case.job.fans[fan].data)).sum();
    let Some(flow) = rated.or(on_box) else {
        return Some(
            Finding::new(
                Check::DuctLengthTable,
                &run.id,
                Verdict::Unknown,
                DuctLengthTableNoRating {
                    pressure: PressurePa(Triple::exact(rated_at.value.pa())),
                },
                source,
            )
            .todo(Todo::ReadLabel),
        );
    };
    let row = |draw: Draw| {
        let sum = tally(case, index, draw);
        let kind = if sum.any_flex { TableDuct::Flex } else { TableDuct::Smooth };
        let answer = book.duct_length(
            kind,
            Length::from_m(sum.smallest_m),
            Airflow::from_m3_s(flow),
            sum.elbows.round() as u32,
        );
        (sum, answer.into_known().map(|ruled| ruled.value))
    };
    let (sum, limit) = row(Draw::Likely);
    // Neither piece nor elbow: there is no duct to look up.
    if !sum.smallest_m.is_finite() {
        return None;
    }
    let limit = limit?;
    // A draw whose size or flow the table does not print says nothing either way.
    let passes: Vec<bool> = draws(case)
        .filter_map(|draw| {
            let (sum, limit) = row(draw);
            Some(limit?.allows(Length::from_m(sum.straight_m)))
        })
        .collect();
    let printed = passes.len() == draws(case).count();
    let chance = share(&passes);
    let mut verdict = by_chance(chance, Verdict::Caution, &source, &case.job.settings);
    if !printed {
        verdict = Verdict::Unknown;
    }
    let flexes = draws(case).filter(|draw| tally(case, index, *draw).any_flex).count();
    let wall = match flexes {
        0 => "smooth",
        some if some == draws(case).count() && sum.flex_m < sum.straight_m => "partly-flexible",
        some if some == draws(case).count() => "flexible",
        _ => "flexible-or-smooth",
    };
    let measured = passing_measurement(case, run);
    let key = match (verdict, rated.is_some(), measured) {
        (Verdict::Holds, ..) => DuctLengthTableKey::Holds,
        (_, _, true) => DuctLengthTableKey::Closed,
        (Verdict::Caution, true, _) => DuctLengthTableKey::Short,
        (Verdict::Caution, false, _) => DuctLengthTableKey::ShortBox,
        (Verdict::Unknown | Verdict::Fails, ..) => DuctLengthTableKey::Unknown,
    };
    if measured {
        verdict = Verdict::Holds;
    }
    let straight = Sample::of(case.inputs, |draw| tally(case, index, draw).straight_m);
    let message = DuctLengthTable {
        key,
        length: LengthM(straight.triple()),
        rated: AirflowLS(Triple::exact(flow * 1000.0)),
        elbows: Count(Triple::exact(sum.elbows)),
        size: DiameterMm(Triple::exact(sum.smallest_m * 1000.0)),
        wall: Word::new(wall),
        chance: case.inputs.tells_chance().then(|| ChanceRatio(Triple::exact(chance))),
        limit: told(limit.limit),
    };
    let mut finding =
        Finding::new(Check::DuctLengthTable, &run.id, verdict, message, source.clone())
            .figure(Figure::LengthM(straight.triple()))
            .chance(case.inputs.tells_chance().then_some(chance))
            .step(table_working(&limit, &sum, flow, &source));
    if let Limit::Max(most) = limit.limit {
        finding = finding.limit(Figure::LengthM(Triple::exact(most.m())));
    }
    if verdict == Verdict::Caution {
        finding = finding.todo(Todo::MakerCriteria).todo(Todo::MeasureFlow);
    }
    finding.todo.extend(confirm_source(&source, verdict));
    Some(finding)
}

fn draws<'a>(case: &Case<'a>) -> Box<dyn Iterator<Item = Draw> + 'a> {
    let count = case.inputs.draws() as usize;
    if count == 0 {
        Box::new(std::iter::once(Draw::Likely))
    } else {
        Box::new((0..count).map(Draw::At))
    }
}

/// A limit of the table, as a length or a word.
fn told(limit: Limit) -> Value {
    match limit {
        Limit::NoLimit => Value::Word("no-limit".to_owned()),
        Limit::NotAllowed => Value::Word("not-allowed".to_owned()),
        Limit::Max(most) => Value::Figure(Figure::LengthM(Triple::exact(most.m()))),
    }
}

fn table_working(limit: &TableLimit, sum: &Tally, flow: f64, source: &Source) -> Step {
    let input = WorkingInput::new;
    let mut inputs = vec![
        input(
            "D",
            What::DuctSize,
            Figure::DiameterMm(Triple::exact(sum.smallest_m * 1000.0)),
            Provenance::Computed,
        ),
        input(
            "row",
            What::TableRow,
            Figure::DiameterMm(Triple::exact(limit.row.mm())),
            Provenance::RuleBook,
        ),
        input(
            "q",
            What::RatedFlow,
            Figure::AirflowLS(Triple::exact(flow * 1000.0)),
            Provenance::Label,
        ),
        input(
            "column",
            What::TableColumn,
            Figure::AirflowLS(Triple::exact(limit.column.l_s())),
            Provenance::RuleBook,
        ),
        input(
            "n",
            What::ElbowCount,
            Figure::Count(Triple::exact(sum.elbows)),
            Provenance::Computed,
        ),
        input(
            "d",
            What::ElbowDeduction,
            Figure::LengthM(Triple::exact(limit.deduction.m())),
            Provenance::RuleBook,
        ),
    ];
    if let Limit::Max(printed) = limit.printed {
        inputs.push(input(
            "printed",
            What::TableCell,
            Figure::LengthM(Triple::exact(printed.m())),
            Provenance::RuleBook,
        ));
    }
    let result = match limit.limit {
        Limit::Max(most) => Some(Figure::LengthM(Triple::exact(most.m()))),
        Limit::NoLimit | Limit::NotAllowed => None,
    };
    Step {
        equation: "limit = table(row, column) - d".into(),
        inputs,
        result,
        source: source.clone(),
    }
}

/// A reading after the work that shows every room of the run gets enough.
fn passing_measurement(case: &Case<'_>, run: &Run) -> bool {
    let rooms: Vec<usize> = case
        .fans_of(run)
        .iter()
        .flat_map(|&fan| dewpath_case::system::rooms_of_fan(case.job, fan))
        .collect();
    !rooms.is_empty() && rooms.iter().all(|&room| super::evidence::measured_enough(case, room))
}

/// Equivalent length as the trade counts it, against the fan's own stated maximum; nothing where its maker states none.
fn equivalent_length(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let fan = case.job.fans.iter().find(|fan| fan.id == run.from)?;
    let most = given::likely(&fan.data.max_equivalent_length)?;
    let counted = || Source {
        book: SourceText::MakersBrochures.into(),
        section: Text::default(),
        standing: Standing::CommonPractice,
    };
    // One that is written stands as it is: whoever added it up counted elbows, flex and outlet in.
    let as_written = matches!(&run.shape, RunShape::Sum(sum) if sum.equivalent_length.is_some());
    let length = |draw| {
        let sum = tally(case, index, draw);
        if as_written {
            return sum.straight_m;
        }
        (sum.straight_m - sum.flex_m)
            + 1.25 * sum.flex_m
            + Length::from_feet(15.0 * sum.elbows + 30.0).m()
    };
    let sample = Sample::of(case.inputs, length);
    let figure = LengthM(sample.triple());
    let sum = tally(case, index, Draw::Likely);
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let metres = |value: f64| Figure::LengthM(Triple::exact(value));
    let step = Step {
        equation: "L_eq = L_smooth + 1.25 L_flex + 15 ft * n + 30 ft".into(),
        inputs: vec![
            input("L_smooth", What::SmoothLength, metres(sum.straight_m - sum.flex_m)),
            input("L_flex", What::FlexLength, metres(sum.flex_m)),
            input("n", What::ElbowCount, Figure::Count(Triple::exact(sum.elbows))),
        ],
        result: Some(figure.into()),
        source: counted(),
    };
    let source = Source::confirmed(SourceText::MakersLimit, fan.id.as_str());
    let passes: Vec<bool> = draws(case).map(|draw| length(draw) <= most.m()).collect();
    let chance = share(&passes);
    let verdict = by_chance(chance, Verdict::Fails, &source, &case.job.settings);
    let limit = LengthM(Triple::exact(most.m()));
    let key = match verdict {
        Verdict::Holds => DuctLengthEquivalentKey::Holds,
        Verdict::Unknown => DuctLengthEquivalentKey::Unknown,
        Verdict::Caution | Verdict::Fails => DuctLengthEquivalentKey::Fails,
    };
    let message = DuctLengthEquivalent { key, length: figure, limit };
    let made = Finding::new(Check::DuctLengthEquivalent, &run.id, verdict, message, source)
        .figure(figure)
        .limit(limit)
        .chance(case.inputs.tells_chance().then_some(chance));
    Some(if as_written { made } else { made.step(step) })
}

/// Limits on the length of a run that some books have besides the table.
fn longest_run(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let rule = case.rule(Book::longest_run)?;
    let source = source::ruled(&rule);
    let straight = Sample::of(case.inputs, |draw| tally(case, index, draw).straight_m);
    let passes: Vec<bool> =
        draws(case).map(|draw| tally(case, index, draw).straight_m <= rule.value.m()).collect();
    let chance = share(&passes);
    let verdict = by_chance(chance, Verdict::Caution, &source, &case.job.settings);
    let figure = LengthM(straight.triple());
    let limit = LengthM(Triple::exact(rule.value.m()));
    let message = DuctLengthLongest { length: figure, limit };
    Some(
        Finding::new(Check::DuctLengthLongest, &run.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(case.inputs.tells_chance().then_some(chance)),
    )
}

/// Sizes closer than this are the same trade size, m: 4 in. and 100 mm. Common practice.
const TRADE_SIZE_M: f64 = 0.004;

/// A duct smaller than the outlet of the fan.
fn smaller_than_outlet(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let fan = case.job.fans.iter().find(|fan| fan.id == run.from)?;
    let outlet = fan.data.outlet.as_ref()?.value.clone().known()?;
    let smallest = tally(case, index, Draw::Likely).smallest_m;
    if !smallest.is_finite() {
        return None;
    }
    let rule = case.ask(Book::not_smaller_than_outlet);
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    // A collar of 4 in. and a pipe of 100 mm are one trade size.
    let sizes: Vec<bool> = draws(case)
        .map(|draw| {
            tally(case, index, draw).smallest_m >= section::hydraulic_m(outlet) - TRADE_SIZE_M
        })
        .collect();
    let chance = share(&sizes);
    let verdict = by_chance(chance, Verdict::Caution, &source, &case.job.settings);
    let figure = DiameterMm(Triple::exact(smallest * 1000.0));
    let limit = DiameterMm(Triple::exact(section::hydraulic_m(outlet) * 1000.0));
    let key = match verdict {
        Verdict::Holds => DuctSizeOutletKey::Holds,
        Verdict::Unknown => DuctSizeOutletKey::Unknown,
        Verdict::Caution | Verdict::Fails => DuctSizeOutletKey::Small,
    };
    let message = DuctSizeOutlet { key, size: figure, outlet: limit };
    let finding = Finding::new(Check::DuctSizeOutlet, &run.id, verdict, message, source)
        .figure(figure)
        .limit(limit)
        .chance(case.inputs.tells_chance().then_some(chance));
    Some(if verdict == Verdict::Caution { finding.todo(Todo::FullSizeDuct) } else { finding })
}

/// Flexible duct: how it was pulled, and sizes nobody has tested.
fn flexible(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let sum = tally(case, index, Draw::Likely);
    if !sum.any_flex {
        return None;
    }
    let pulled = |duct: &DuctGiven| {
        given::options(&duct.pulled) == [Pull::Tight]
            || given::bounds(&duct.compression).is_some_and(|(_, high)| high.ratio() <= 0.06)
    };
    let tight = match &run.shape {
        RunShape::Sum(sum) => pulled(&sum.duct),
        RunShape::Parts(parts) => parts.iter().all(|part| match &part.kind {
            PartKind::Piece { duct, .. } => {
                let flex =
                    duct.kind.as_ref().is_some_and(|s| s.value.options().contains(&DuctKind::Flex));
                !flex || pulled(duct)
            }
            _ => true,
        }),
    };
    let tested = (0.150..=0.250).contains(&sum.smallest_m);
    let source = Source::confirmed(
        Citation("Abushakra, Walker & Sherman 2004, HVAC&R Research 10(3)"),
        SourceText::CompressionFactor,
    );
    let (key, verdict) = match (tight, tested) {
        (true, true) => (DuctFlexKey::Tight, Verdict::Holds),
        (true, false) => (DuctFlexKey::Untested, Verdict::Caution),
        (false, _) => (DuctFlexKey::Slack, Verdict::Caution),
    };
    let figure = LengthM(Triple::exact(sum.flex_m));
    let message =
        DuctFlex { key, length: figure, size: DiameterMm(Triple::exact(sum.smallest_m * 1000.0)) };
    let finding = Finding::new(Check::DuctFlex, &run.id, verdict, message, source).figure(figure);
    Some(if tight { finding } else { finding.todo(Todo::PullTight) })
}

fn ducts(run: &Run) -> Vec<&DuctGiven> {
    match &run.shape {
        RunShape::Sum(sum) => vec![&sum.duct],
        RunShape::Parts(parts) => parts
            .iter()
            .filter_map(|part| match &part.kind {
                PartKind::Piece { duct, .. } => Some(duct),
                _ => None,
            })
            .collect(),
    }
}

/// Metal thickness where it is written, and materials the book asks for.
fn make(case: &Case<'_>, run: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    let rule = case.ask(|book| book.duct_metal(dewpath_rulebook::MetalUse::Dwelling).thickness);
    for duct in ducts(run) {
        let wall = given::likely(&duct.wall);
        if let (Some(wall), Some(rule)) = (wall, &rule) {
            let holds = wall.m() >= rule.value.m() - 1e-6;
            let key = if holds { DuctGaugeKey::Holds } else { DuctGaugeKey::Thin };
            let [has, limit] = [wall, rule.value].map(|of| GapMm(Triple::exact(of.mm())));
            let message = DuctGauge { key, has, limit };
            let (has, limit) = (has.into(), limit.into());
            findings.push(against(run, Check::DuctGauge, message, holds, has, limit, rule));
        }
    }
    findings.extend(smooth_inside(case, run));
    findings.extend(through_garage(case, run));
    let forced_bend = match &run.shape {
        RunShape::Parts(parts) => parts.iter().any(|part| match &part.kind {
            PartKind::Elbow { make, radius, .. } => {
                given::options(make) == [ElbowMake::FlexBend]
                    && given::likely(radius).is_some_and(|r| r.ratio() < 1.0)
            }
            _ => false,
        }),
        RunShape::Sum(_) => false,
    };
    if forced_bend && let Some(rule) = case.ask(Book::bend_radius_diameters) {
        let source = source::ruled(&rule);
        let verdict = judged(false, Verdict::Caution, &source);
        let message = DuctBendTight { limit: Count(Triple::exact(rule.value)) };
        findings.push(Finding::new(Check::DuctBend, &run.id, verdict, message, source));
    }
    findings
}

/// Smooth duct where the book asks for it.
fn smooth_inside(case: &Case<'_>, run: &Run) -> Option<Finding> {
    let rule = case.ask(Book::smooth_inside).filter(|rule| rule.value)?;
    let source = source::ruled(&rule);
    let kinds: Vec<&[DuctKind]> =
        ducts(run).into_iter().map(|duct| given::options(&duct.kind)).collect();
    let rough = |kind: &DuctKind| is_flex(*kind) || *kind == DuctKind::DuctBoard;
    let all_rough = |kinds: &&[DuctKind]| !kinds.is_empty() && kinds.iter().all(rough);
    let all_smooth = |kinds: &&[DuctKind]| !kinds.is_empty() && !kinds.iter().any(rough);
    let (key, verdict) = if kinds.iter().any(all_rough) {
        let broken = case.weight(Book::smooth_inside);
        (DuctMaterial::Flexible, judged(false, broken, &source))
    } else if kinds.iter().all(all_smooth) {
        (DuctMaterial::Holds, judged(true, Verdict::Caution, &source))
    } else {
        (DuctMaterial::Unknown, Verdict::Unknown)
    };
    let finding = Finding::new(Check::DuctMaterial, &run.id, verdict, key, source);
    Some(if verdict == Verdict::Unknown { finding.todo(Todo::LookDuct) } else { finding })
}

/// A duct through a garage is sheet steel of a stated thickness, not flexible duct.
fn through_garage(case: &Case<'_>, run: &Run) -> Option<Finding> {
    let here = ducts(run)
        .into_iter()
        .find(|duct| given::member(&duct.place) == Some(Surroundings::Garage))?;
    let question =
        |book: &Book| book.duct_metal(dewpath_rulebook::MetalUse::GarageSeparation).thickness;
    let rule = case.ask(question)?;
    let source = source::ruled(&rule);
    let limit = GapMm(Triple::exact(rule.value.mm()));
    let kinds = given::options(&here.kind);
    let wall = given::bounds(&here.wall);
    let steel = |kind: &DuctKind| matches!(kind, DuctKind::SmoothMetal | DuctKind::SpiralMetal);
    let (key, verdict) = if !kinds.is_empty() && !kinds.iter().any(steel) {
        (DuctGarageKey::NotSteel, judged(false, case.weight(question), &source))
    } else {
        match wall {
            Some((low, _)) if kinds.iter().all(steel) && low.m() >= rule.value.m() - 1e-6 => {
                (DuctGarageKey::Holds, judged(true, Verdict::Fails, &source))
            }
            Some((_, high)) if high.m() < rule.value.m() - 1e-6 => {
                (DuctGarageKey::Thin, judged(false, case.weight(question), &source))
            }
            _ => (DuctGarageKey::Unknown, Verdict::Unknown),
        }
    };
    let message = DuctGarage { key, limit };
    Some(
        Finding::new(Check::DuctGarage, &run.id, verdict, message, source)
            .limit(limit)
            .todo(Todo::Garage),
    )
}

fn supports(case: &Case<'_>, run: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    for duct in ducts(run) {
        let Some(spacing) = given::likely(&duct.support_spacing) else {
            continue;
        };
        let flex =
            duct.kind.as_ref().is_some_and(|s| s.value.options().iter().any(|k| is_flex(*k)));
        let kind = if flex { TableDuct::Flex } else { TableDuct::Smooth };
        let Some(rule) = case.ask(|book| book.supports(kind).spacing) else { continue };
        let holds = spacing.m() <= rule.value.m() + 1e-6;
        let key = if holds { DuctSupportKey::Holds } else { DuctSupportKey::Wide };
        let [has, limit] = [spacing, rule.value].map(|of| LengthM(Triple::exact(of.m())));
        let message = DuctSupport { key, has, limit };
        let (has, limit) = (has.into(), limit.into());
        findings.push(against(run, Check::DuctSupport, message, holds, has, limit, &rule));
    }
    findings
}

/// A written figure against a limit of a book: advice where it is not met.
fn against<T>(
    run: &Run,
    id: Check,
    message: impl Into<Message>,
    holds: bool,
    has: Figure,
    limit: Figure,
    rule: &Ruled<T>,
) -> Finding {
    let source = source::ruled(rule);
    let verdict = judged(holds, Verdict::Caution, &source);
    Finding::new(id, &run.id, verdict, message, source).figure(has).limit(limit)
}

fn unheated(place: Surroundings) -> bool {
    matches!(
        place,
        Surroundings::Attic
            | Surroundings::CrawlSpace
            | Surroundings::Outdoors
            | Surroundings::Garage
    )
}

/// Insulation where the duct runs through the cold.
fn insulation(case: &Case<'_>, run: &Run) -> Option<Finding> {
    // Where it may run through the cold, it counts.
    let cold: Vec<&DuctGiven> = ducts(run)
        .into_iter()
        .filter(|duct| given::options(&duct.place).iter().any(|place| unheated(*place)))
        .collect();
    if cold.is_empty() {
        return None;
    }
    let rule = case.ask(Book::insulation_in_unheated_space)?;
    let guidance = case.world.also_show.iter().find_map(|book| {
        book.insulation_in_unheated_space()
            .into_known()
            .filter(|r| matches!(r.value, InsulationAsked::AtLeast(_)))
    });
    let rule = match (&rule.value, guidance) {
        (InsulationAsked::NoneAsked, Some(better)) => better,
        _ => rule,
    };
    let source = source::ruled(&rule);
    let broken = case.weight(|book| match book.insulation_in_unheated_space() {
        // A book that asks for none is not broken by a thin jacket.
        Answer::Known(ruled) if ruled.value == InsulationAsked::NoneAsked => {
            Answer::NotInBook { question: String::new() }
        }
        other => other,
    });
    let least = cold.iter().try_fold(f64::INFINITY, |least, duct| {
        Some(least.min(given::bounds(&duct.insulation)?.0.rsi()))
    });
    let finding = |key: DuctInsulationKey, verdict: Verdict, asked: Option<f64>| {
        let has = Triple::exact(least.filter(|x| x.is_finite()).unwrap_or(0.0));
        let asked = asked.map(|rsi| InsulationRsi(Triple::exact(rsi)));
        let message = DuctInsulation { key, has: InsulationRsi(has), asked };
        let mut made =
            Finding::new(Check::DuctInsulation, &run.id, verdict, message, source.clone());
        made.limit = asked.map(Figure::from);
        made
    };
    let enough = |has: f64, asked: f64| {
        let holds = has >= asked - 1e-9;
        let key = if holds { DuctInsulationKey::Holds } else { DuctInsulationKey::Thin };
        let is_far_over = has >= REMEMBERED * asked;
        let verdict = if is_far_over { Verdict::Holds } else { judged(holds, broken, &source) };
        let mut finding = finding(key, verdict, Some(asked));
        finding.todo.extend(confirm_source(&source, verdict));
        let needed = Some(InsulationRsi(Triple::exact(asked)));
        if holds { finding } else { finding.todo(TodoInsulate { needed }) }
    };
    Some(match (&rule.value, least) {
        // The book asks for none on a lone exhaust duct; whether it stays dry shows in its water.
        (InsulationAsked::NoneAsked, _) => return None,
        (_, None) => {
            finding(DuctInsulationKey::Unknown, Verdict::Unknown, None).todo(Todo::LookInsulation)
        }
        (InsulationAsked::AtLeast(asked), Some(has)) => enough(has, asked.rsi()),
        // A thickness of the usual material, 0.04 W/mK.
        (InsulationAsked::Thickness(asked), Some(has)) => enough(has, asked.m() / 0.04),
    })
}

/// A place with more of its area left is not called crushed.
const ROUND: f64 = 0.9;
/// Share of the losses of a run below which a crushed place is not worth the way. Judgement.
const HARDLY_FELT: f64 = 0.1;

/// The crushed place that costs most on a run.
fn crushed(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let flows = case.flows?;
    let (edge, _) = case.system.find(|o| matches!(o, Owner::Part { run, .. } if *run == index))?;
    let losses = &flows.items[edge];
    let all: f64 = losses.iter().map(|loss| loss.likely).filter(|loss| *loss > 0.0).sum();
    let items = case.system.edges[edge].items.iter().zip(losses);
    let of_place = items.filter_map(|(item, loss)| match (&item.owner, &item.spec) {
        (Owner::Part { run, .. }, Spec::Crush { open, .. }) if *run == index => Some((*open, loss)),
        _ => None,
    });
    let (open, loss) = of_place.max_by(|a, b| a.1.likely.total_cmp(&b.1.likely))?;
    let left = case.inputs.triple(open);
    if left.likely > ROUND || loss.likely.is_nan() || loss.likely <= HARDLY_FELT * all {
        return None;
    }
    let share = loss.likely / all;
    let figure = PressurePa(loss.triple());
    let share = ShareRatio(Triple::exact(share));
    let message = DuctCrushed { left: ShareRatio(left), loss: figure, share };
    let step = Step {
        equation: CRUSHED.equation.into(),
        inputs: vec![case.inputs.in_working("s", open)],
        result: Some(figure.into()),
        source: law::source(&CRUSHED),
    };
    let source = Source::practice();
    Some(
        Finding::new(Check::DuctCrushed, &run.id, Verdict::Caution, message, source)
            .figure(figure)
            .step(step)
            .todo(Todo::OpenCrushed),
    )
}

/// Above this the air is heard, m/s. Source: recommended for quiet ducts, upper value.
const LOUD_M_S: f64 = 5.0;

fn velocity(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let flows = case.flows?;
    let (edge, _) = case.system.find(|o| matches!(o, Owner::Part { run, .. } if *run == index))?;
    let smallest = tally(case, index, Draw::Likely).smallest_m2;
    if !smallest.is_finite() || flows.undriven[index] {
        return None;
    }
    let speed = Sample::of(case.inputs, |draw| {
        flows.edges[edge].at(draw) / tally(case, index, draw).smallest_m2
    });
    let passes: Vec<bool> = draws(case).map(|draw| speed.at(draw) <= LOUD_M_S).collect();
    let figure = VelocityMS(speed.triple());
    let limit = VelocityMS(Triple::exact(LOUD_M_S));
    let source = Source::practice();
    let chance = share(&passes);
    // Speed is advice either way: what is not sure to be quiet is worth a word.
    let holds = chance > case.job.settings.fails_at;
    let key = if holds { DuctVelocityKey::Quiet } else { DuctVelocityKey::Loud };
    let message = DuctVelocity { key, speed: figure, limit };
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let flow = flows.edges[edge].litres();
    let step = Step {
        equation: "v = q / A".into(),
        inputs: vec![
            input("q", What::RunFlow, Figure::AirflowLS(flow)),
            input("A", What::DuctArea, Figure::AreaM2(Triple::exact(smallest))),
        ],
        result: Some(figure.into()),
        source: Source::confirmed(SourceText::Continuity, ""),
    };
    let verdict = judged(holds, Verdict::Caution, &source);
    Some(
        Finding::new(Check::DuctVelocity, &run.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(case.inputs.tells_chance().then_some(chance))
            .step(step),
    )
}

/// Share of leaking air that is not worth a word where nobody wrote anything of the joints.
const HARDLY_LEAKS: f64 = 0.02;

/// What leaks out of the joints between fan and outdoors, by the leakage class of the duct.
fn sealing(case: &Case<'_>, index: usize, run: &Run) -> Option<Finding> {
    let flows = case.flows?;
    let (edge, _) = case.system.find(|o| matches!(o, Owner::Part { run, .. } if *run == index))?;
    let sealed = given::yes(&run.sealed);
    let class = dewpath_case::system::parts::tightness(sealed == Some(true));
    let (start, end) = pressures(case, flows, edge, index);
    let sum = tally(case, index, Draw::Likely);
    if !sum.smallest_m.is_finite() || flows.edges[edge].likely <= 0.0 {
        return None;
    }
    let surface = sum.surface_m2;
    let lost = fraction_lost(
        class,
        Area::from_m2(surface),
        Pressure::from_pa(start),
        Pressure::from_pa(end),
        Airflow::from_m3_s(flows.edges[edge].likely),
    )
    .ok()??;
    let figure = ShareRatio(Triple::exact(lost));
    let source = law::source(&SHARE);
    let rule = case.ask(Book::joints_fastened);
    let asked = rule.as_ref().map_or_else(Source::practice, source::ruled);
    let (key, verdict) = match sealed {
        Some(true) => (DuctSealingKey::Holds, judged(true, Verdict::Caution, &asked)),
        Some(false) => (DuctSealingKey::Open, Verdict::Caution),
        None => (DuctSealingKey::Unknown, Verdict::Caution),
    };
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let step = Step {
        equation: SHARE.equation.into(),
        inputs: vec![
            input("A", What::DuctSurface, Figure::AreaM2(Triple::exact(surface))),
            input("p_start", What::PressureStart, Figure::PressurePa(Triple::exact(start))),
            input("p_end", What::PressureEnd, Figure::PressurePa(Triple::exact(end))),
        ],
        result: Some(figure.into()),
        source,
    };
    let message = DuctSealing { key, lost: figure };
    // Less than this is no more than any duct has.
    if sealed.is_none() && lost < HARDLY_LEAKS {
        return None;
    }
    let finding = Finding::new(Check::DuctSealing, &run.id, verdict, message, asked)
        .figure(figure)
        .step(step);
    Some(if sealed == Some(true) { finding } else { finding.todo(Todo::SealJoints) })
}

/// Whether a damper is written among the parts of a run.
fn has_damper(run: &Run) -> bool {
    match &run.shape {
        RunShape::Parts(parts) => {
            parts.iter().any(|part| matches!(part.kind, PartKind::Damper { .. }))
        }
        RunShape::Sum(_) => false,
    }
}

/// Pressure of a run against its surroundings where it starts and where it ends, at the likely
/// values: what is still to be lost from there on.
fn pressures(case: &Case<'_>, flows: &Flows, edge: usize, run: usize) -> (f64, f64) {
    let items = &case.system.edges[edge].items;
    let mine = |owner: &Owner| matches!(owner, Owner::Part { run: r, .. } if *r == run);
    let first = items.iter().position(|item| mine(&item.owner)).unwrap_or(0);
    let last = items.iter().rposition(|item| mine(&item.owner)).unwrap_or(0);
    let rest = |from: usize| flows.items[edge][from..].iter().map(|loss| loss.likely).sum::<f64>();
    (rest(first).abs(), rest(last + 1).abs())
}

/// Runs that share a way out: with other fans, with a dryer or hood, in a riser.
fn joined(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for exhaust in &case.job.dwelling.exhausts {
        let Some(run) = &exhaust.joined_to else { continue };
        let with = given::member(&exhaust.kind);
        let joined = match with {
            Some(ExhaustKind::Dryer) => dewpath_rulebook::Joined::Dryer,
            Some(ExhaustKind::RangeHood) => dewpath_rulebook::Joined::KitchenHood,
            Some(ExhaustKind::Garage) => dewpath_rulebook::Joined::Garage,
            Some(ExhaustKind::Other) | None => dewpath_rulebook::Joined::OtherExhaust,
        };
        let rule = case.ask(|book| book.joining_allowed(joined));
        let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
        let allowed = rule.as_ref().is_some_and(|rule| rule.value);
        let verdict = if rule.is_some() {
            judged(allowed, case.weight(|book| book.joining_allowed(joined)), &source)
        } else {
            Verdict::Caution
        };
        let key = if allowed { DuctJoinedKey::Allowed } else { DuctJoinedKey::Never };
        let message = DuctJoined { key, exhaust: Name::new(&exhaust.id) };
        findings.push(
            Finding::new(Check::DuctJoined, run, verdict, message, source).todo(Todo::OwnDuct),
        );
    }
    for junction in &case.job.junctions {
        let meeting: Vec<&Run> = case.job.runs.iter().filter(|run| run.to == junction.id).collect();
        let fans: Vec<usize> = meeting.iter().flat_map(|run| case.fans_of(run)).collect();
        if meeting.len() < 2 || fans.len() < 2 {
            continue;
        }
        // Two fans on one duct: each blows into the other while that one stands still.
        let damped = |with: bool| {
            fans.iter().all(|&fan| given::yes(&case.job.fans[fan].data.damper) == Some(with))
        };
        let in_run = meeting.iter().any(|run| has_damper(run));
        let key = if damped(true) { DuctJoinedFans::FansDamped } else { DuctJoinedFans::Fans };
        // Nothing that shuts is written as such: the air of one room comes out in the other, which no book has to forbid.
        let verdict = if damped(false) && !in_run { Verdict::Fails } else { Verdict::Caution };
        let made = Finding::new(Check::DuctJoined, &junction.id, verdict, key, Source::practice());
        findings.push(made.todo(Todo::DampersBoth).todo(Todo::OwnDuct));
    }
    findings.extend(shared_fans(case));
    for terminal in &case.job.terminals {
        let shared = given::options(&terminal.kind) == [TerminalKind::SharedRiser];
        if !shared {
            continue;
        }
        let rule = case.rule(Book::shared_riser_allowed);
        let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
        let (key, verdict) = match rule.as_ref().map(|rule| rule.value) {
            Some(_) if source.standing == Standing::FromMemory => {
                (DuctRiser::Memory, Verdict::Unknown)
            }
            Some(true) => (DuctRiser::Allowed, judged(true, Verdict::Fails, &source)),
            Some(false) => (DuctRiser::NotAllowed, judged(false, Verdict::Fails, &source)),
            None => (DuctRiser::NotInBook, Verdict::Unknown),
        };
        let finding = Finding::new(Check::DuctRiser, &terminal.id, verdict, key, source);
        findings.push(finding.todo(Todo::RiserOwner));
    }
    findings
}

/// Rooms that share one fan: while it stands still, air and sound pass from one to the other.
fn shared_fans(case: &Case<'_>) -> Vec<Finding> {
    (0..case.job.fans.len())
        .filter(|&fan| dewpath_case::system::rooms_of_fan(case.job, fan).len() > 1)
        .map(|fan| {
            let message = DuctJoinedRooms {};
            let id = &case.job.fans[fan].id;
            Finding::new(Check::DuctJoined, id, Verdict::Caution, message, Source::practice())
                .todo(Todo::Balance)
        })
        .collect()
}
