//! What is said of where a housing goes.

use dewpath_message::messages;
use dewpath_message::slot::{LengthM, Name, Reference, Word};

messages! {
    struct PlaceHousing {
        bay: Reference,
        wish: Word,
        offset: LengthM,
        dx: LengthM,
        dy: LengthM,
    } = PlaceHousingKey {
        AtWish = "place.housing.at-wish",
        Near = "place.housing.near",
    }

    struct PlaceHousingHangs { bay: Reference } = "place.housing.hangs"

    struct PlaceHousingMoved {
        bay: Reference,
        offset: LengthM,
        dx: LengthM,
        dy: LengthM,
    } = "place.housing.moved"

    struct PlaceHousingNotThere {} = "place.housing.not-there"

    struct PlaceHousingNowhere {} = "place.housing.nowhere"

    struct PlaceHousingMissing { at: Reference } = "place.housing.missing"

    struct PlaceHousingBadGeometry { told: Name } = "place.housing.bad-geometry"

    struct PlaceEdgeUnknown { bay: Reference, gap: LengthM } = "place.edge.unknown"

    struct TodoLookAtEdge { zone: Reference } = "todo.look-at-edge"

    struct BoundBy { by: Option<LengthM> } = BoundByKey {
        BayWidth = "bound.bay-width",
        BayLength = "bound.bay-length",
        BayHeight = "bound.bay-height",
        NoFraming = "bound.no-framing",
        Outline = "bound.outline",
        FirstStraight = "bound.first-straight",
    }

    struct BoundByThing { id: Reference, by: Option<LengthM> } = BoundByThingKey {
        Member = "bound.member",
        Obstacle = "bound.obstacle",
        WetZone = "bound.wet-zone",
        FirstStraightAt = "bound.first-straight-at",
    }
}
