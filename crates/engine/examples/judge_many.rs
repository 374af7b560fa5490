//! Judges many jobs in one go: reads job texts from the standard input, each ended by a line with nothing but `---`,
//! and prints one report a line as JSON, at the likely values. For comparison with general-purpose libraries
//! (`reference/test_operating_point.py`).
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::io::Read as _;

use dewpath_case::World;
use dewpath_engine::evaluate;
use dewpath_job::model::Library;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut all = String::new();
    std::io::stdin().read_to_string(&mut all)?;
    for text in all.split("\n---\n").filter(|text| !text.trim().is_empty()) {
        let told = |wrong: dewpath_job::Diagnostics| format!("{text}\n{wrong}");
        let read = dewpath_job::read("job.toml", text).map_err(told)?;
        let job = read.resolve(&Library::default()).map_err(told)?;
        let rule_book = job.rule_book.as_deref().map(dewpath_rulebook::load).transpose()?;
        let world = World { rule_book, job_text: text.to_owned(), ..World::default() };
        println!("{}", serde_json::to_string(&evaluate(&job, &world, 0))?);
    }
    Ok(())
}
