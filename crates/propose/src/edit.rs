//! What is proposed, as a change to the job.

use dewpath_job::model::Show;
use dewpath_job::patch::Patch;
use dewpath_report::{PatchText, SetText};
use dewpath_units::{Choice, Length, Origin, Quantity as _, Stated, Style, Uncertain};

/// How a job says lengths.
pub(crate) const fn style(show: Show) -> Style {
    match show {
        Show::Us => Style::US,
        Show::Metric => Style::METRIC,
    }
}

/// A length to cut, as a proposal says it: as a tape of the job is read, to a sixteenth of an inch or a tenth of a millimetre.
pub(crate) fn length(metres: f64, show: Show) -> Length {
    if show == Show::Metric {
        return mark(metres);
    }
    // What is read back from its own text is written as that text.
    let read = Length::parse(&Length::from_m(metres.abs()).print(&Style::US));
    read.map_or_else(|_| mark(metres), |length| Length::from_m(length.m().copysign(metres)))
}

/// A place as a proposal says it: to a tenth of a millimetre, so that what is held on both sides still fits there.
pub(crate) fn mark(metres: f64) -> Length {
    Length::from_mm((metres * 1e4).round() / 10.0)
}

/// A value that is proposed, as a job states it.
pub(crate) fn exact<T>(value: T) -> Stated<Uncertain<T>> {
    Stated::new(Uncertain::Exact(value), Origin::Written)
}

/// A word, a size or a place that is proposed, as a job states it.
pub(crate) fn known<C>(value: C) -> Stated<Choice<C>> {
    Stated::new(Choice::Known(value), Origin::Written)
}

/// A patch as a report tells it.
pub(crate) fn told(Patch { set, remove }: Patch) -> PatchText {
    let set = set.into_iter().map(|set| SetText { at: set.at, value: set.value });
    PatchText { set: set.collect(), remove }
}

#[cfg(test)]
mod tests {
    //! What is judged is what the text gives: for every proposal over the jobs of the repository.
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test that fails should stop")]

    use std::path::Path;
    use std::sync::LazyLock;

    use dewpath_case::{Basis, World};
    use dewpath_job::model::{FanData, Job, Library};
    use dewpath_job::{library, outline, patch};
    use dewpath_judge::house::Stage;
    use dewpath_layout::route::Over;
    use dewpath_report::RouteResult;
    use dewpath_units::Angle;

    use super::*;
    use crate::floor::Floor;
    use crate::place;
    use crate::route::{self, Wanted};
    use crate::select::{self, model_instead};

    /// Texts of the jobs of the repository that can be judged, by name.
    fn texts() -> Vec<(String, String)> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let folders =
            ["jobs", "jobs/cases", "crates/cli/tests/practice"].map(|name| root.join(name));
        let files = folders.iter().flat_map(|folder| std::fs::read_dir(folder).unwrap());
        let mut files: Vec<_> = files.map(|file| file.unwrap().path()).collect();
        files.sort();
        let named = files.into_iter().filter(|file| file.extension().is_some_and(|e| e == "toml"));
        let texts =
            named.map(|file| (file.display().to_string(), std::fs::read_to_string(file).unwrap()));
        texts.filter(|(_, text)| dewpath_job::read("job.toml", text).is_ok()).collect()
    }

    static PRODUCTS: LazyLock<Library> = LazyLock::new(|| {
        library::read("demo.toml", include_str!("../../../jobs/library/demo.toml")).unwrap()
    });

    fn read(text: &str) -> Job {
        let read = dewpath_job::read("job.toml", text);
        read.unwrap_or_else(|wrong| panic!("{wrong}\n{text}")).job
    }

    fn resolved(text: &str) -> Job {
        dewpath_job::read("job.toml", text).unwrap().resolve(&PRODUCTS).unwrap()
    }

    fn taken(text: &str, PatchText { set, remove }: &PatchText) -> String {
        let set = set.iter().map(|set| patch::Set { at: set.at.clone(), value: set.value.clone() });
        let patch = Patch { set: set.collect(), remove: remove.clone() };
        patch::apply(text, &patch).unwrap_or_else(|wrong| panic!("{wrong}\n{patch:#?}\n{text}"))
    }

    fn world(job: &Job, text: &str) -> World {
        World {
            rule_book: job.rule_book.as_ref().map(|id| dewpath_rulebook::load(id).unwrap()),
            products: PRODUCTS.clone(),
            job_text: text.to_owned(),
            ..World::default()
        }
    }

    /// The ways from every place of every fan, each with the job that was judged.
    fn ways(text: &str) -> Vec<(RouteResult, Job)> {
        let job = resolved(text);
        let world = world(&job, text);
        let mut floor = Floor::of(&job);
        let starts = place::place(&job, &mut floor).starts;
        let basis = Basis::of(&job, &world, 0);
        let case = basis.case(&job, &world, None);
        let to = |start, way: &str| {
            let wanted = Wanted { way_out: Some(way.to_owned()), duct: None };
            route::to(&case, &floor, start, &wanted, Over::Held)
        };
        let each = |start| job.ways_out.iter().filter_map(move |way| to(start, &way.id));
        starts.iter().flat_map(each).collect()
    }

    #[test]
    fn the_job_that_is_judged_with_a_way_is_that_of_the_text() {
        let mut tried = 0;
        for (name, text) in texts() {
            for (way, judged) in ways(&text) {
                let once = taken(&text, &way.patch);
                assert_eq!(resolved(&once), judged, "{name}: {:#?}", way.patch);
                // Taken again, from what it has become.
                for (way, judged) in ways(&once) {
                    assert_eq!(
                        resolved(&taken(&once, &way.patch)),
                        judged,
                        "{name}: {:#?}",
                        way.patch
                    );
                    tried += 1;
                }
            }
        }
        assert!(tried >= 20, "{tried}");
    }

    const BAY: &str = include_str!("../../../jobs/cases/geo-bay.toml");
    const SUM: &str = "length = \"12 ft\"\nelbows = 1\nelbow_make = \"stamped\"\n";

    /// What stands in a section of a text.
    fn section<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
        text.split(from).nth(1).unwrap().split(to).next().unwrap()
    }

    /// What is done again as on the old duct goes into the text as well, and what was of the old one alone into neither.
    #[test]
    fn what_is_known_of_the_old_duct_goes_with_the_new_one_or_stays_behind() {
        let again = "insulation = \"R-6\"\njacket = \"foil\"\nsupport_spacing = \"3 ft\"\ncover = \"8 in\"\n";
        let of_kind = "roughness = \"0.05 mm\"\nwall = \"0.35 mm\"\n";
        let of_old = "pulled = \"slack\"\ncompression = 0.1\ncompressed = 0.2\nrise = \"1 ft\"\nseen = true\n";
        let parts = "part = [{ id = \"way-1\", elbow = {} }, { id = \"old\", piece = { length = \"9 ft\" } }]\n";
        let built = "\n[[built]]\nat = \"run.duct.slope\"\nvalue = \"level\"\n";
        for (shape, kind) in
            [(SUM, "smooth metal"), (SUM, "flex"), (parts, "smooth metal"), (parts, "flex")]
        {
            let run = format!("{again}{of_kind}{of_old}{shape}");
            let text = BAY.replace(SUM, &run).replacen("smooth metal", kind, 1) + built;
            let ways = ways(&text);
            assert!(!ways.is_empty());
            for (way, judged) in ways {
                let text = taken(&text, &way.patch);
                assert_eq!(resolved(&text), judged, "{kind}, {shape}: {:#?}", way.patch);
                let as_built = dewpath_job::read_as_built("job.toml", &text).unwrap();
                assert_eq!(as_built.job, read(&text));
                let run = section(&text, "[run]", "[terminal]");
                let says = |key: &str| run.contains(&format!("{key} = "));
                assert!(["insulation", "jacket", "support_spacing", "cover"].into_iter().all(says));
                assert_eq!(says("roughness") && says("wall"), kind == "smooth metal", "{run}");
                assert!(!["pulled", "compression", "compressed", "seen"].into_iter().any(says));
                assert!(run.contains("rise = \"") && !run.contains("1 ft"), "{run}");
            }
        }
    }

    #[test]
    fn the_job_with_a_place_is_that_of_the_text() {
        let mut tried = 0;
        for (name, text) in texts() {
            let job = resolved(&text);
            for place in place::place(&job, &mut Floor::of(&job)).placements {
                let mut hung = read(&text);
                let fan = hung.fans.iter_mut().find(|fan| fan.id == place.fan).unwrap();
                fan.at = Some(known([place.x_m, place.y_m].map(mark)));
                fan.rotation = Some(exact(Angle::from_deg(place.turned_deg)));
                assert_eq!(read(&taken(&text, &place.patch)), hung, "{name}: {:#?}", place.patch);
                tried += 1;
            }
        }
        assert!(tried >= 20, "{tried}");
    }

    /// A fan that says all that can be said of one keeps only its place and its name once another hangs there. Candidates differ by their
    /// model alone, so that two of each job are enough.
    #[test]
    fn the_job_with_another_fan_is_that_of_the_text() {
        let form = outline::forms().into_iter().find(|form| form.table == "fan").unwrap();
        let said = section(BAY, "[fan]", "[run]");
        let rest = form
            .fields
            .iter()
            .filter(|field| field.key != "model" && !said.contains(&format!("{} = ", field.key)));
        let rest: Vec<String> =
            rest.map(|field| format!("{} = {}", field.key, field.example)).collect();
        let all = BAY.replacen("[fan]\n", &format!("[fan]\n{}\n", rest.join("\n")), 1);
        for (name, text) in texts().into_iter().chain([("all".to_owned(), all)]) {
            let job = resolved(&text);
            let world = world(&job, &text);
            let basis = Basis::of(&job, &world, 0);
            let case = basis.case(&job, &world, None);
            for candidate in select::select(&case, &Stage::default()).into_iter().take(2) {
                let mut swapped = read(&text);
                let fan = swapped.fans.iter_mut().find(|fan| fan.id == candidate.fan).unwrap();
                model_instead(fan, &candidate.model);
                let text = taken(&text, &candidate.patch);
                assert_eq!(read(&text), swapped, "{name}: {:#?}", candidate.patch);
                if name == "all" {
                    let left = read(&text).fans[0].data.clone();
                    assert!(left.name.is_some() && left.notes.is_some());
                    let bare = FanData { name: None, notes: None, ..left };
                    assert_eq!(bare, FanData::default());
                }
            }
        }
    }
}
