//! The jobs both benches evaluate: two of the examples, with the demo library.

use dewpath_engine::World;
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
