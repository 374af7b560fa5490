//! From a rule book's answer to the source of a finding.

use dewpath_report::{Source, Standing};
use dewpath_rulebook::Ruled;

/// Source of a value of a rule book.
pub fn ruled<T>(ruled: &Ruled<T>) -> Source {
    Source {
        book: ruled.book.as_str().into(),
        // A standard of one part has no section to add.
        section: if ruled.section == ruled.book { "" } else { &*ruled.section }.into(),
        standing: match ruled.standing {
            dewpath_rulebook::Standing::Confirmed => Standing::Confirmed,
            dewpath_rulebook::Standing::FromMemory => Standing::FromMemory,
        },
    }
}
