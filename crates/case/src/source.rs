//! From a rule book's answer to the source of a finding.

use dewpath_report::{Source, Standing};
use dewpath_rulebook::Ruled;

/// Source of a value of a rule book.
pub fn ruled<T>(ruled: &Ruled<T>) -> Source {
    Source {
        book: ruled.book.clone(),
        // A standard of one part has no section to add.
        section: if ruled.section == ruled.book { String::new() } else { ruled.section.clone() },
        standing: match ruled.standing {
            dewpath_rulebook::Standing::Confirmed => Standing::Confirmed,
            dewpath_rulebook::Standing::FromMemory => Standing::FromMemory,
        },
    }
}
