//! Equations of workings that need words, and symbols that do.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Reference, Word};

messages! {
    struct EquationDaysInARow { law: Reference, days: Count } = "equation.days-in-a-row"

    struct EquationDripPoints { of: Word } = "equation.drip-points"

    enum Equation {
        PrintedRate = "equation.printed-rate",
        FixtureRates = "equation.fixture-rates",
        RatePerArea = "equation.rate-per-area",
        AirChanges = "equation.air-changes",
        OverRooms = "equation.over-rooms",
        CurveAtRating = "equation.curve-at-rating",
        FanBalance = "equation.fan-balance",
        AirIn = "equation.air-in",
        AllExhausts = "equation.all-exhausts",
        DrawnDown = "equation.drawn-down",
        LeastInsulation = "equation.least-insulation",
        IdleInward = "equation.idle-inward",
        LowestHeldOn = "equation.lowest-held-on",
        Electricity = "equation.electricity",
        HeatMadeUp = "equation.heat-made-up",
        ColdMadeUp = "equation.cold-made-up",
        MouldGrowth = "equation.mould-growth",
        MoistureSupply = "equation.moisture-supply",
        MonthByMonth = "equation.month-by-month",
        AgainstLimit = "equation.against-limit",
    }

    enum Symbol {
        RoughnessPlace = "symbol.roughness-place",
        FlexPlace = "symbol.flex-place",
    }
}
