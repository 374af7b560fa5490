//! What a job is judged against, as it is handed in.

use dewpath_job::model::Library;
use dewpath_moisture::weather::Weather;
use dewpath_rulebook::Book;

/// What the job is judged against.
#[derive(Debug, Clone, Default)]
pub struct World {
    /// The rule book in force, with local amendments laid over it.
    pub rule_book: Option<Book>,
    /// Books shown beside it.
    pub also_show: Vec<Book>,
    /// The user's library; its fans are judged on every run.
    pub products: Library,
    /// Hourly weather of the file that the job names, where it names one.
    pub weather: Option<Weather>,
    /// Text of the job, for its hash in the report.
    pub job_text: String,
    /// Texts of the library, in order, for their hash in the report.
    pub products_text: String,
}
