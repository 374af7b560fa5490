//! What is said of ducts.

use dewpath_message::slot::{
    AirflowLS, ChanceRatio, Count, DiameterMm, GapMm, InsulationRsi, LengthM, Name, PressurePa,
    ShareRatio, VelocityMS, Word,
};
use dewpath_message::{Value, messages};

messages! {
    struct DuctLengthTable {
        length: LengthM,
        rated: AirflowLS,
        elbows: Count,
        size: DiameterMm,
        wall: Word,
        chance: Option<ChanceRatio>,
        limit: Value,
    } = DuctLengthTableKey {
        Holds = "duct.length.table.holds",
        Short = "duct.length.table.short",
        ShortBox = "duct.length.table.short-box",
        Unknown = "duct.length.table.unknown",
        Closed = "duct.length.table.closed",
    }

    struct DuctLengthTableNoRating { pressure: PressurePa } = "duct.length.table.no-rating"

    struct DuctLengthEquivalent { length: LengthM, limit: LengthM } = DuctLengthEquivalentKey {
        Holds = "duct.length.equivalent.holds",
        Unknown = "duct.length.equivalent.unknown",
        Fails = "duct.length.equivalent.fails",
    }

    struct DuctLengthLongest { length: LengthM, limit: LengthM } = "duct.length.longest"

    struct DuctSizeOutlet { size: DiameterMm, outlet: DiameterMm } = DuctSizeOutletKey {
        Holds = "duct.size.outlet.holds",
        Unknown = "duct.size.outlet.unknown",
        Small = "duct.size.outlet.small",
    }

    struct DuctFlex { length: LengthM, size: DiameterMm } = DuctFlexKey {
        Tight = "duct.flex.tight",
        Untested = "duct.flex.untested",
        Slack = "duct.flex.slack",
    }

    struct DuctCrushed { left: ShareRatio, loss: PressurePa, share: ShareRatio } = "duct.crushed"

    struct DuctGauge { has: GapMm, limit: GapMm } = DuctGaugeKey {
        Holds = "duct.gauge.holds",
        Thin = "duct.gauge.thin",
    }

    enum DuctMaterial {
        Flexible = "duct.material.flexible",
        Holds = "duct.material.holds",
        Unknown = "duct.material.unknown",
    }

    struct DuctGarage { limit: GapMm } = DuctGarageKey {
        NotSteel = "duct.garage.not-steel",
        Holds = "duct.garage.holds",
        Thin = "duct.garage.thin",
        Unknown = "duct.garage.unknown",
    }

    struct DuctBendTight { limit: Count } = "duct.bend.tight"

    struct DuctSupport { has: LengthM, limit: LengthM } = DuctSupportKey {
        Holds = "duct.support.holds",
        Wide = "duct.support.wide",
    }

    struct DuctInsulation { has: InsulationRsi, asked: Option<InsulationRsi> } = DuctInsulationKey {
        Holds = "duct.insulation.holds",
        Thin = "duct.insulation.thin",
        Unknown = "duct.insulation.unknown",
    }

    struct DuctVelocity { speed: VelocityMS, limit: VelocityMS } = DuctVelocityKey {
        Quiet = "duct.velocity.quiet",
        Loud = "duct.velocity.loud",
    }

    struct DuctJoined { exhaust: Name } = DuctJoinedKey {
        Allowed = "duct.joined.allowed",
        Never = "duct.joined.never",
    }

    enum DuctJoinedFans {
        Fans = "duct.joined.fans",
        FansDamped = "duct.joined.fans-damped",
    }

    struct DuctJoinedRooms {} = "duct.joined.rooms"

    enum DuctRiser {
        Memory = "duct.riser.memory",
        Allowed = "duct.riser.allowed",
        NotAllowed = "duct.riser.not-allowed",
        NotInBook = "duct.riser.not-in-book",
    }

    struct DuctSealing { lost: ShareRatio } = DuctSealingKey {
        Holds = "duct.sealing.holds",
        Open = "duct.sealing.open",
        Unknown = "duct.sealing.unknown",
    }
}
