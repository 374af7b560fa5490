//! Reading Rust source just well enough to search it: comments and text apart from code, tests apart from the rest.

use std::ops::Range;
use std::path::{Path, PathBuf};

use crate::workspace::Result;

/// A Rust file, ready to be searched.
#[derive(Clone, Debug)]
pub struct Source {
    /// The file as it stands.
    pub text: String,
    /// The same length; comments and the contents of strings replaced by spaces.
    pub code: String,
    /// Byte ranges of what stands inside the quotes of strings.
    pub literals: Vec<Range<usize>>,
    /// Byte ranges of modules marked `#[cfg(test)]`.
    pub test_modules: Vec<Range<usize>>,
    /// Test functions, with the comments and attributes above each.
    pub tests: Vec<TestFunction>,
}

/// One function marked `#[test]`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestFunction {
    /// Name of the function.
    pub name: String,
    /// From the comments above it to its closing brace.
    pub range: Range<usize>,
}

impl Source {
    /// Takes the text of a Rust file apart.
    pub fn new(text: &str) -> Self {
        let (code, literals) = blank(text);
        let test_modules = test_modules(&code);
        let tests = test_functions(text, &code);
        Self { text: text.to_string(), code, literals, test_modules, tests }
    }

    /// Code that is shipped: without comments, text and `#[cfg(test)]` modules. Same length as the file.
    pub fn shipped(&self) -> String {
        let mut code = self.code.clone().into_bytes();
        for range in &self.test_modules {
            for byte in &mut code[range.clone()] {
                if *byte != b'\n' {
                    *byte = b' ';
                }
            }
        }
        String::from_utf8_lossy(&code).into_owned()
    }

    /// The number of the line that holds byte `at`, from 1.
    pub fn line(&self, at: usize) -> usize {
        self.text[..at].matches('\n').count() + 1
    }
}

/// Every file below `folder` with one of these endings, in order of path; hidden folders and build output are left out.
///
/// # Errors
/// When a folder cannot be read.
pub fn files(folder: &Path, endings: &[&str]) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    if folder.is_dir() {
        walk(folder, endings, &mut found)?;
    }
    found.sort();
    Ok(found)
}

fn walk(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) -> Result<()> {
    let complain = |error| format!("cannot list {}: {error}", folder.display());
    for entry in std::fs::read_dir(folder).map_err(complain)? {
        let path = entry.map_err(complain)?.path();
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
        let name = name.unwrap_or_default();
        if path.is_dir() {
            if !name.starts_with('.') && name != "target" && name != "__pycache__" {
                walk(&path, endings, found)?;
            }
        } else if endings.iter().any(|ending| name.ends_with(ending)) {
            found.push(path);
        }
    }
    Ok(())
}

/// Does the path name a file of this kind (`rs`, `py`)? Endings are compared as they are written.
pub fn is_kind(path: &str, ending: &str) -> bool {
    Path::new(path).extension().is_some_and(|found| found == ending)
}

/// Every place where `word` stands alone in `code` (not inside a longer name).
pub fn word_places(code: &str, word: &str) -> Vec<usize> {
    let is_name = |byte: Option<&u8>| byte.is_some_and(|b| b.is_ascii_alphanumeric() || *b == b'_');
    let bytes = code.as_bytes();
    code.match_indices(word)
        .map(|(at, _)| at)
        .filter(|at| !(*at > 0 && is_name(bytes.get(at - 1)) && is_name(bytes.get(*at))))
        .filter(|at| !is_name(bytes.get(at + word.len())) || word.ends_with(['!', ':', '(']))
        .collect()
}

/// What the reader of Rust text stands in.
enum State {
    Code,
    LineComment,
    BlockComment(usize),
    Text,
    RawText(usize),
}

/// Replaces comments and the contents of strings and character literals by spaces; line ends stay.
fn blank(text: &str) -> (String, Vec<Range<usize>>) {
    let bytes = text.as_bytes();
    let mut out = vec![b' '; bytes.len()];
    let mut literals = Vec::new();
    let mut state = State::Code;
    let mut at = 0;
    let mut begin = 0;
    while at < bytes.len() {
        let rest = &bytes[at..];
        let mut step = 1;
        match state {
            State::Code => {
                if rest.starts_with(b"//") {
                    state = State::LineComment;
                } else if rest.starts_with(b"/*") {
                    state = State::BlockComment(1);
                    step = 2;
                } else if rest[0] == b'"' {
                    state = State::Text;
                    begin = at + 1;
                } else if let Some((length, hashes)) = raw_text_start(bytes, at) {
                    state = State::RawText(hashes);
                    step = length;
                    begin = at + length;
                } else if let Some(length) = character_literal(rest) {
                    step = length;
                } else {
                    out[at] = rest[0];
                }
            }
            State::LineComment if rest[0] == b'\n' => state = State::Code,
            State::BlockComment(depth) if rest.starts_with(b"*/") => {
                state = if depth == 1 { State::Code } else { State::BlockComment(depth - 1) };
                step = 2;
            }
            State::BlockComment(depth) if rest.starts_with(b"/*") => {
                state = State::BlockComment(depth + 1);
                step = 2;
            }
            State::Text if rest[0] == b'\\' => step = 2,
            State::Text if rest[0] == b'"' => {
                state = State::Code;
                literals.push(begin..at);
            }
            State::RawText(hashes) if closes_raw_text(rest, hashes) => {
                state = State::Code;
                step = 1 + hashes;
                literals.push(begin..at);
            }
            _ => {}
        }
        at += step;
    }
    for (blanked, byte) in out.iter_mut().zip(bytes) {
        if *byte == b'\n' {
            *blanked = b'\n';
        }
    }
    // Code outside strings is ASCII save for rare names; those bytes are blanked rather than split.
    let code = out.iter().map(|b| if b.is_ascii() { *b } else { b' ' }).collect();
    (String::from_utf8(code).unwrap_or_default(), literals)
}

/// At `r"`, `r#"`, `br"` …: the length of the opening and its number of `#`.
fn raw_text_start(bytes: &[u8], at: usize) -> Option<(usize, usize)> {
    let before = at.checked_sub(1).and_then(|before| bytes.get(before));
    if bytes[at] != b'r' || before.is_some_and(|b| b.is_ascii_alphanumeric() && *b != b'b') {
        return None;
    }
    let hashes = bytes[at + 1..].iter().take_while(|byte| **byte == b'#').count();
    (bytes.get(at + 1 + hashes) == Some(&b'"')).then_some((hashes + 2, hashes))
}

fn closes_raw_text(rest: &[u8], hashes: usize) -> bool {
    rest[0] == b'"' && rest[1..].iter().take_while(|byte| **byte == b'#').count() >= hashes
}

/// At a character literal (not a lifetime): its length.
fn character_literal(rest: &[u8]) -> Option<usize> {
    if rest[0] != b'\'' {
        return None;
    }
    if rest.get(1) == Some(&b'\\') {
        return rest.iter().skip(3).position(|byte| *byte == b'\'').map(|end| end + 4);
    }
    let end = rest.iter().take(6).skip(2).position(|byte| *byte == b'\'')? + 2;
    let inside = std::str::from_utf8(&rest[1..end]).ok()?;
    (inside.chars().count() == 1).then_some(end + 1)
}

fn test_modules(code: &str) -> Vec<Range<usize>> {
    code.match_indices("#[cfg(test)]")
        .filter_map(|(start, _)| Some(start..item_end(code, start)?))
        .collect()
}

fn test_functions(text: &str, code: &str) -> Vec<TestFunction> {
    let mut found = Vec::new();
    for (start, _) in code.match_indices("#[test]") {
        let Some(name_at) = code[start..].find("fn ").map(|offset| start + offset + 3) else {
            continue;
        };
        let is_name = |c: char| c.is_ascii_alphanumeric() || c == '_';
        let name: String = code[name_at..].chars().take_while(|c| is_name(*c)).collect();
        let Some(end) = item_end(code, name_at) else { continue };
        found.push(TestFunction { name, range: with_lines_above(text, start)..end });
    }
    found
}

/// The start of the comments and attributes directly above the line that holds byte `at`.
fn with_lines_above(text: &str, at: usize) -> usize {
    let mut start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    while start > 0 {
        let above = text[..start - 1].rfind('\n').map_or(0, |end| end + 1);
        let line = text[above..start - 1].trim_start();
        let is_head = line.starts_with("//!");
        if is_head || !(line.starts_with("//") || line.starts_with("#[")) {
            break;
        }
        start = above;
    }
    start
}

/// The end of the item that begins at `start`: past its closing brace, or past its `;` if it has no body.
fn item_end(code: &str, start: usize) -> Option<usize> {
    let mut depth = 0usize;
    for (offset, byte) in code.as_bytes()[start..].iter().enumerate() {
        match byte {
            b'{' => depth += 1,
            b'}' => {
                depth = depth.checked_sub(1)?;
                if depth == 0 {
                    return Some(start + offset + 1);
                }
            }
            b';' if depth == 0 => return Some(start + offset + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = r##"//! Head with HashMap.
use std::fs; // a std::time remark
fn life<'a>(x: &'a str) -> char { let y = "{ HashSet"; /* { /* nested */ { */ '{' }
const RAW: &str = r#"println!("{")"#;
// after

#[cfg(test)]
mod tests {
    // PSY-01 belongs to the next test
    #[test]
    fn first() { assert!("}" != "{"); }

    fn not_a_test() {}
}
fn last() { dbg!(1) }
"##;

    #[test]
    fn comments_and_text_are_not_code() {
        let source = Source::new(FILE);
        assert_eq!(source.code.len(), FILE.len());
        for word in ["HashMap", "HashSet", "std::time", "println", "nested"] {
            assert!(!source.code.contains(word), "{word}");
        }
        for word in ["std::fs", "life<'a>", "fn last()"] {
            assert!(source.code.contains(word), "{word}");
        }
    }

    #[test]
    fn code_after_a_test_module_is_still_shipped() {
        let source = Source::new(FILE);
        assert_eq!(source.test_modules.len(), 1);
        assert!(source.shipped().contains("dbg!"));
        assert!(!source.shipped().contains("not_a_test"));
    }

    #[test]
    fn a_test_owns_the_comment_above_it() {
        let source = Source::new(FILE);
        assert_eq!(source.tests.len(), 1);
        assert_eq!(source.tests[0].name, "first");
        let range = source.tests[0].range.clone();
        assert!(FILE[range].starts_with("    // PSY-01"));
    }

    #[test]
    fn a_word_is_not_found_inside_a_longer_one() {
        assert_eq!(word_places("HashMap MyHashMap HashMapLike", "HashMap"), [0]);
        assert_eq!(word_places("println!() eprintln!()", "println!"), [0]);
    }

    #[test]
    fn lines_count_from_one() {
        let source = Source::new(FILE);
        assert_eq!(source.line(0), 1);
        assert_eq!(source.line(FILE.find("use std").unwrap()), 2);
    }

    #[test]
    fn broken_text_does_not_stop_the_reader() {
        for text in
            ["\"", "r#\"", "/*", "'", "'\\", "b'\\''", "fn {", "}", "#[test] fn x() {", "é'é'"]
        {
            assert_eq!(Source::new(text).code.len(), text.len(), "{text}");
        }
    }
}
