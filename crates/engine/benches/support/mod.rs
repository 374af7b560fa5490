//! The jobs both benches evaluate: two of the examples, with the demo library.

use dewpath_case::World;
use dewpath_job::model::{FanData, FanKind, Job, Library, LibraryFan};

/// A job with everything it is judged against.
pub(crate) struct Case {
    pub job: Job,
    pub world: World,
}

/// One fan on one run: five pieces and fittings from the fan to a cap in the gable.
pub(crate) fn hall_bath() -> Case {
    case(include_str!("../../../../jobs/hall-bath.toml"))
}

/// Two grilles, a wye and an inline fan.
pub(crate) fn two_baths_inline() -> Case {
    case(include_str!("../../../../jobs/two-baths-inline.toml"))
}

/// A bathroom in the middle of a floor of 40 ft x 30 ft under an attic: 30 trusses, 20 obstacles, five ways out.
#[allow(dead_code, reason = "not every bench asks for a large floor")]
pub(crate) fn wide_attic() -> Case {
    let small = include_str!("../../../../jobs/cases/geo-attic.toml");
    let (job, _) = small.split_once("[framing]").expect("the case has framing");
    let job = job.replace(r#"at = ["0 ft", "0 ft"]"#, r#"at = ["16 ft", "12 ft"]"#);
    let ways = [
        (
            "east-gable",
            "gable",
            "+x",
            r#"["40 ft 2 in", "11 ft", "9 ft"]"#,
            r#"["0 ft", "8 ft", "3 ft"]"#,
        ),
        (
            "west-gable",
            "gable",
            "-x",
            r#"["-2 in", "11 ft", "9 ft"]"#,
            r#"["0 ft", "8 ft", "3 ft"]"#,
        ),
        (
            "front-soffit",
            "soffit",
            "down",
            r#"["10 ft", "6 in", "8 ft 3 in"]"#,
            r#"["12 ft", "1 ft", "0 ft"]"#,
        ),
        (
            "rear-roof",
            "roof",
            "up",
            r#"["10 ft", "20 ft", "13 ft 5-1/2 in"]"#,
            r#"["14 ft", "4 ft", "0 ft"]"#,
        ),
        (
            "front-roof",
            "roof",
            "up",
            r#"["10 ft", "5 ft", "13 ft 5-1/2 in"]"#,
            r#"["14 ft", "4 ft", "0 ft"]"#,
        ),
    ];
    let ways: String = ways.iter().map(way_out).collect();
    case(&[job.as_str(), WIDE_ATTIC, &ways, &obstacles(20)].concat())
}

/// A way out: its name, kind, where it faces, place and size.
fn way_out((id, kind, facing, at, size): &(&str, &str, &str, &str, &str)) -> String {
    let roof = if *kind == "roof" { "pitch = 0.5\ncover = \"metal\"\n" } else { "" };
    let terminal = if *id == "east-gable" { "terminal = \"cap\"\n" } else { "" };
    format!(
        "[[way_out]]\nid = \"{id}\"\nkind = \"{kind}\"\nfacing = \"{facing}\"\nat = {at}\nsize = {size}\nseparation = \"none\"\n\
         {roof}{terminal}layers = [{{ material = \"sheathing\", thickness = \"1/2 in\" }}]\n\n"
    )
}

/// Boxes of 8 in., spread evenly over the attic's floor by a low-discrepancy sequence, none on the bathroom.
fn obstacles(count: usize) -> String {
    let spread = |k: usize, by: f64| (k as f64 * by).fract();
    let one = |k: usize| {
        let (x, y) = (spread(k, 0.754_877_666) * 39.0, spread(k, 0.569_840_291) * 29.0);
        let x = if (14.0..26.0).contains(&x) && (10.0..19.0).contains(&y) { x + 12.0 } else { x };
        format!(
            "[[obstacle]]\nid = \"box-{k}\"\nkind = \"pipe\"\nat = [\"{x:.2} ft\", \"{y:.2} ft\", \"8 ft 6 in\"]\n\
             size = [\"8 in\", \"8 in\", \"8 in\"]\n\n"
        )
    };
    (1..=count).map(one).collect()
}

const WIDE_ATTIC: &str = r#"
[framing]
id = "trusses"
kind = "truss"
actual = ["1-1/2 in", "3-1/2 in"]
spacing = "16 in"
direction = "y"
first = "8 in"
at = ["0 ft", "0 ft"]
extent = ["40 ft", "30 ft"]
bottom = "8 ft 0-1/2 in"
bearings = ["0 ft", "30 ft"]
above = "attic"

[[space]]
id = "attic"
kind = "attic"
at = ["0 ft", "0 ft", "8 ft 4 in"]
size = ["40 ft", "30 ft", "5 ft"]

"#;

fn case(text: &str) -> Case {
    let library_text = include_str!("../../../../jobs/library/demo.toml");
    let library = dewpath_job::library::read("demo.toml", library_text).expect("a sound library");
    let read = dewpath_job::read("job.toml", text).expect("a sound job");
    let book = |id: &String| dewpath_rulebook::load(id).expect("a known rule book");
    let rule_book = read.job.rule_book.as_ref().map(book);
    let also_show = read.job.also_show.iter().map(book).collect();
    let job = read.resolve(&library).expect("its fans and terminals are in the library");
    let world = World {
        rule_book,
        also_show,
        products: library,
        weather: None,
        job_text: text.to_owned(),
        products_text: library_text.to_owned(),
    };
    Case { job, world }
}

/// How many fans the large library holds.
#[allow(dead_code, reason = "not every bench asks for a large library")]
pub(crate) const MANY_FANS: usize = 500;

impl Case {
    /// The same job with nothing to choose from.
    pub(crate) fn without_library(mut self) -> Self {
        self.world.products = Library::default();
        self
    }

    /// The same job with a library of 500 fans that could all hang where the job's fan hangs: the demo ones of
    /// that mount whose curve is known, with their flow scaled from 0.7 to 1.3.
    #[allow(dead_code, reason = "not every bench asks for a large library")]
    pub(crate) fn with_many_fans(mut self) -> Self {
        let inline = self.job.fans.iter().any(|fan| is_inline(&fan.data));
        let fits = |fan: &&LibraryFan| is_inline(&fan.data) == inline && fan.data.curve.len() > 1;
        let models: Vec<LibraryFan> =
            self.world.products.fans.iter().filter(fits).cloned().collect();
        assert!(!models.is_empty(), "the demo library has a fan of this mount");
        self.world.products.fans = (0..MANY_FANS)
            .zip(models.iter().cycle())
            .map(|(number, model)| scaled(model, number))
            .collect();
        self
    }
}

fn is_inline(data: &FanData) -> bool {
    data.kind.as_ref().is_some_and(|kind| kind.value.options() == [FanKind::Inline])
}

fn scaled(model: &LibraryFan, number: usize) -> LibraryFan {
    let factor = 0.7 + 0.6 * number as f64 / MANY_FANS as f64;
    let mut fan = model.clone();
    fan.id = format!("{}-{number}", model.id);
    for (flow, _) in &mut fan.data.curve {
        *flow = *flow * factor;
    }
    fan
}
