//! What the program says besides the report: troubles, the survey sheet, what it does meanwhile.

use dewpath_message::slot::{List, Name, Reference};
use dewpath_message::{Text, messages};

messages! {
    struct Cannot { path: Name, why: Text } = CannotKey {
        Read = "cli.cannot.read",
        Write = "cli.cannot.write",
        MakeFolder = "cli.cannot.make-folder",
    }

    enum Reason {
        NotThere = "cli.reason.not-there",
        IsFolder = "cli.reason.is-folder",
        Denied = "cli.reason.denied",
        ThereAlready = "cli.reason.there-already",
    }

    struct NotOurs { path: Name } = "cli.not-ours"

    struct NoFinding { finding: Name } = "cli.no-finding"

    struct Findings { findings: List } = FindingsKey {
        OfJob = "cli.findings.of-job",
        DidYouMean = "cli.findings.did-you-mean",
    }

    struct NotAsJson { why: Reference } = "cli.not-as-json"

    enum Hint {
        NameFile = "cli.hint.name-file",
        CheckPath = "cli.hint.check-path",
        NameFolder = "cli.hint.name-folder",
        NameOut = "cli.hint.name-out",
        NameAnother = "cli.hint.name-another",
        NameInFolder = "cli.hint.name-in-folder",
        MoveAway = "cli.hint.move-away",
        LeaveMarkdown = "cli.hint.leave-markdown",
        Fault = "cli.hint.fault",
    }

    struct Wrote { path: Name } = WroteKey {
        File = "cli.wrote.file",
        Job = "cli.wrote.job",
        NoRoom = "cli.wrote.no-room",
    }

    struct Working { draws: Reference } = "cli.working"

    enum Told {
        Done = "cli.done",
        NothingToDraw = "cli.nothing-to-draw",
        NoPageOfReport = "cli.no-page-of-report",
    }

    struct SheetTitle { job: Name } = "sheet.title"

    enum Sheet {
        Head = "sheet.head",
        Before = "sheet.before",
        SwitchOff = "sheet.switch-off",
        Ladder = "sheet.ladder",
        First = "sheet.first",
        Visit = "sheet.visit",
        Photograph = "sheet.photograph",
        Fan = "sheet.photograph.fan",
        Run = "sheet.photograph.run",
        Terminal = "sheet.photograph.terminal",
        Framing = "sheet.photograph.framing",
        WayOut = "sheet.photograph.way-out",
        Room = "sheet.photograph.room",
        Ask = "sheet.ask",
        NotSeenSoFar = "sheet.not-seen-so-far",
        NotSeen = "sheet.not-seen",
        LookUp = "sheet.look-up",
        Unknown = "sheet.unknown",
    }
}

/// What is said of handing out the page.
#[cfg(feature = "office")]
pub(crate) mod serving {
    use dewpath_message::slot::{Name, Reference};
    use dewpath_message::{Text, messages};

    messages! {
        struct PageAt { address: Reference } = "serve.at"

        struct PageNotHandedOut { why: Text } = "serve.not-handed-out"

        struct PageFolders { page: Name, jobs: Name } = "serve.folders"
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use std::path::Path;

    use dewpath_words::Catalogue;

    use super::DECLARED;

    #[test]
    fn every_message_has_its_text_and_every_text_its_message() {
        let english = Catalogue::english();
        assert_eq!(english.faults(&["cli.", "sheet."], DECLARED), [""; 0]);
        #[cfg(feature = "office")]
        assert_eq!(english.faults(&["serve."], super::serving::DECLARED), [""; 0]);
    }

    #[test]
    fn every_message_is_said() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let others = files.filter(|path| path.file_name().is_some_and(|name| name != "say.rs"));
        let source: String = others.filter_map(|path| std::fs::read_to_string(path).ok()).collect();
        let unsaid: Vec<&str> = DECLARED
            .concat()
            .into_iter()
            .map(|message| message.name)
            .filter(|name| !source.contains(name))
            .collect();
        assert!(unsaid.is_empty(), "nobody says {unsaid:?}");
    }
}
