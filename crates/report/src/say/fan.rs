//! What is said of fans, controls and swaps.

use dewpath_message::messages;
use dewpath_message::slot::{AirflowLS, Count, DiameterMm, GapMm, LoudnessSone, Name, Reference};

messages! {
    struct SoundLimit { loudness: LoudnessSone, limit: LoudnessSone } = SoundLimitKey {
        Holds = "sound.limit.holds",
        Near = "sound.limit.near",
        Loud = "sound.limit.loud",
    }

    struct SoundLimitUnknown { limit: LoudnessSone } = "sound.limit.unknown"

    enum FanListing {
        Holds = "fan.listing.holds",
        Not = "fan.listing.not",
        Unknown = "fan.listing.unknown",
    }

    enum FanRatingMark {
        Holds = "fan.rating-mark.holds",
        None = "fan.rating-mark.none",
        Unknown = "fan.rating-mark.unknown",
    }

    enum FanContinuous {
        Holds = "fan.continuous.holds",
        Not = "fan.continuous.not",
        Unknown = "fan.continuous.unknown",
    }

    struct FanStall { flow: AirflowLS, count: Count } = "fan.stall"

    struct FanData { fan: Name, why: Reference } = FanDataKey {
        None = "fan.data.none",
        Contradicts = "fan.data.contradicts",
    }

    struct ControlRequired { allowed: Reference } = ControlRequiredKey {
        Holds = "control.required.holds",
        Fails = "control.required.fails",
        Unknown = "control.required.unknown",
    }

    enum SwapOpening {
        Enlarge = "swap.opening.enlarge",
        Patch = "swap.opening.patch",
        Fits = "swap.opening.fits",
    }

    struct SwapDepth { depth: GapMm } = SwapDepthKey {
        Fits = "swap.depth.fits",
        TooDeep = "swap.depth.too-deep",
        Unknown = "swap.depth.unknown",
    }

    struct SwapCollar { collar: DiameterMm, outlet: DiameterMm } = SwapCollarKey {
        Same = "swap.collar.same",
        Smaller = "swap.collar.smaller",
        Larger = "swap.collar.larger",
    }

    struct SwapAccessFromBelow {} = "swap.access.from-below"

    enum SwapNeutral {
        None = "swap.neutral.none",
        Unknown = "swap.neutral.unknown",
    }

    struct SwapWireHeater {} = "swap.wire.heater"
}
