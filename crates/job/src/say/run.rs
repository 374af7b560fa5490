//! What does not go together of runs and what they join.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, Reference};

messages! {
    enum Run {
        TransitionWithoutSize = "job.run.transition-without-size",
        PieceWithoutLength = "job.run.piece-without-length",
        NoParts = "job.run.no-parts",
    }

    struct OfFan { fan: Name } = OfFanKey {
        FeelsNoHumidity = "job.run.feels-no-humidity",
        FeelsNoPeople = "job.run.feels-no-people",
        NotByQuarters = "job.run.not-by-quarters",
        NoRunLeaves = "job.run.no-run-leaves",
    }

    struct RisesButFalls { run: Name } = "job.run.rises-but-falls"

    struct Circle { circle: Reference } = "job.run.circle"

    struct RunsLeaveFan { count: Count, fan: Name } = "job.run.runs-leave-fan"

    struct OfTerminal { terminal: Name } = OfTerminalKey {
        NoRunLeads = "job.run.no-run-leads",
        WriteTo = "job.run.write-to",
    }

    struct RunsLeadToTerminal { count: Count, terminal: Name } = "job.run.runs-lead-to-terminal"

    struct NoRunStarts { grille: Name } = "job.run.no-run-starts"

    struct OfJunction { junction: Name } = OfJunctionKey {
        NoRunInto = "job.run.no-run-into",
        NoRunOut = "job.run.no-run-out",
    }
}
