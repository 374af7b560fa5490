//! Do the kernels still take as many instructions as they did? The output of the counting benchmarks against a
//! committed list.

use std::collections::BTreeMap;

/// The committed counts.
pub const LIST: &str = "xtask/instruction-counts.txt";

/// A count may grow by this much: compilers differ a little from version to version.
const SLACK: f64 = 0.10;

/// Counts by name of the benchmark.
pub type Counts = BTreeMap<String, u64>;

/// Reads what the benchmarks print: a line with the name, then one with `Instructions: new|old`.
pub fn printed(output: &str) -> Counts {
    let mut found = Counts::new();
    let mut name = None;
    for line in output.lines() {
        if let Some(rest) = line.trim_start().strip_prefix("Instructions:") {
            let digits = rest.trim_start().split('|').next().unwrap_or_default();
            if let (Some(name), Ok(count)) = (name.take(), digits.trim().parse()) {
                found.insert(name, count);
            }
        } else if !line.starts_with(' ') && line.contains("::") {
            name = line.split(":(").next().map(|name| name.trim().to_string());
        }
    }
    found
}

/// Reads the committed list: `name = count`, one a line, `#` for remarks.
///
/// # Errors
/// Names the line that cannot be read.
pub fn listed(text: &str) -> crate::workspace::Result<Counts> {
    let lines =
        (1..).zip(text.lines()).filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    lines
        .map(|(number, line)| {
            let parts = line.rsplit_once('=');
            let read =
                parts.and_then(|(name, count)| Some((name.trim(), count.trim().parse().ok()?)));
            let (name, count) = read.ok_or(format!("{LIST}:{number}: write `name = count`"))?;
            Ok((name.to_string(), count))
        })
        .collect()
}

/// One sentence for each benchmark that takes more than it did, is not listed, or is listed and gone.
pub fn complaints(printed: &Counts, listed: &Counts) -> Vec<String> {
    let mut found = Vec::new();
    for (name, count) in printed {
        match listed.get(name) {
            None => found.push(format!("{name} is not listed; add `{name} = {count}` to {LIST}")),
            Some(before) if *count as f64 > *before as f64 * (1.0 + SLACK) => found.push(format!(
                "{name} takes {count} instructions, {before} before; make it as quick as it was, \
                 or say why not in the change that writes `{name} = {count}` to {LIST}"
            )),
            Some(_) => {}
        }
    }
    let gone = listed.keys().filter(|name| !printed.contains_key(*name));
    found.extend(gone.map(|name| format!("{name} is listed in {LIST} but was not run")));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    const OUTPUT: &str = "\
instructions::kernels::friction smooth:(support :: duct(3.0, 9e-5))
  Instructions:                                        307|300                  (+2.3%) [+1.02x]
  L1 Hits:                                             388|387                  (+0.25840%) [+1.00258x]
instructions::kernels::solve single_run:(warmed(support :: single_run()))
  Instructions:                                       6884|N/A                  (*********)

Gungraun result: Ok. 2 without regressions; 0 regressed
";

    fn counts(pairs: &[(&str, u64)]) -> Counts {
        pairs.iter().map(|(name, count)| ((*name).to_string(), *count)).collect()
    }

    const FRICTION: &str = "instructions::kernels::friction smooth";
    const SOLVE: &str = "instructions::kernels::solve single_run";

    #[test]
    fn the_new_count_is_read() {
        assert_eq!(printed(OUTPUT), counts(&[(FRICTION, 307), (SOLVE, 6884)]));
        assert!(printed("").is_empty());
    }

    #[test]
    fn the_list_is_read_and_a_broken_line_named() {
        let list = format!("# remark\n\n{FRICTION} = 307\n");
        assert_eq!(listed(&list), Ok(counts(&[(FRICTION, 307)])));
        assert!(listed("a = 1\nb\n").unwrap_err().contains(":2:"));
        assert!(listed("a = -1\n").is_err());
    }

    #[test]
    fn growth_beyond_the_slack_is_a_complaint() {
        let now = printed(OUTPUT);
        assert!(complaints(&now, &counts(&[(FRICTION, 280), (SOLVE, 9000)])).is_empty());
        assert_eq!(complaints(&now, &counts(&[(FRICTION, 279), (SOLVE, 6884)])).len(), 1);
    }

    #[test]
    fn so_is_a_benchmark_on_one_side_alone() {
        let now = printed(OUTPUT);
        let found = complaints(&now, &counts(&[(FRICTION, 307), ("old", 1)]));
        assert_eq!(found.len(), 2, "{found:?}");
    }
}
