//! The books that come with the program; each is read only when it is asked for.

macro_rules! books {
    ($($id:literal),+ $(,)?) => {
        const IDS: &[&str] = &[$($id),+];
        const TEXTS: &[&str] = &[$(include_str!(concat!("../data/", $id, ".toml"))),+];
    };
}

books![
    "au-ncc-2022",
    "ca-nbc",
    "ca-on",
    "de-din-18017-3",
    "dk-br18",
    "gb-eng-adf-2021",
    "nl",
    "nz-g4",
    "pl",
    "trade-guideline",
    "us-ashrae-62.2",
    "us-irc-2018",
    "us-irc-2021",
    "us-irc-2024",
    "us-or-2021",
    "us-wa-2021",
];

/// Ids of the built-in books, in alphabetical order.
pub fn builtin_ids() -> &'static [&'static str] {
    IDS
}

pub(crate) fn text(id: &str) -> Option<&'static str> {
    let at = IDS.iter().position(|known| *known == id)?;
    TEXTS.get(at).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, load};
    use crate::key;

    const PAGE: &str = include_str!("../../../docs/rulebook-format.md");

    /// Keys of single values in the order in which a data file writes them.
    fn written_keys(text: &str) -> Vec<String> {
        let mut topic = String::new();
        let mut keys = Vec::new();
        for line in text.lines() {
            if let Some(name) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
                name.clone_into(&mut topic);
            } else if let Some((name, _)) = line.split_once(" = ") {
                let key = format!("{topic}.{name}");
                keys.extend(key::shape(&key).map(|_| key));
            }
        }
        keys
    }

    #[test]
    fn data_files_are_in_the_order_of_the_documentation() {
        let order: Vec<String> = key::all().collect();
        let mut ids = IDS.to_vec();
        ids.sort_unstable();
        assert_eq!(ids, IDS, "ids are in alphabetical order");
        for (id, text) in IDS.iter().zip(TEXTS) {
            let written = written_keys(text);
            assert!(!written.is_empty(), "{id}");
            let sorted: Vec<&String> = order.iter().filter(|key| written.contains(key)).collect();
            assert_eq!(written.iter().collect::<Vec<_>>(), sorted, "{id}");
            assert!(text.contains(&format!("\nid = \"{id}\"\n")) && text.ends_with('\n'), "{id}");
        }
    }

    #[test]
    fn every_key_is_documented_and_none_else() {
        let (rooms, others): (Vec<String>, Vec<String>) =
            key::all().partition(|key| key.starts_with("airflow."));
        let mut rows = Vec::new();
        for line in PAGE.lines() {
            if let Some((name, _)) = line.strip_prefix("| `").and_then(|row| row.split_once('`')) {
                rows.push(name.to_owned());
            }
        }
        let room_rows = rooms.len() / key::ROOMS.len();
        let whats: Vec<&str> =
            rooms.iter().take(room_rows).filter_map(|key| key.rsplit('.').next()).collect();
        assert_eq!(rows[..room_rows], whats);
        assert_eq!(rows[room_rows..], others);
    }

    #[test]
    fn the_examples_of_the_documentation_are_read() {
        let examples: Vec<&str> =
            PAGE.split("```toml\n").skip(1).filter_map(|rest| rest.split("```").next()).collect();
        assert_eq!(examples.len(), 2);
        Book::parse(examples[0]).unwrap();
        let amendment = crate::Amendment::parse(examples[1]).unwrap();
        load("us-irc-2021").unwrap().amended_by(&amendment).unwrap();
    }
}
