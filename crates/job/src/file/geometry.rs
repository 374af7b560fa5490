//! Reads where things are.

use crate::model::{
    Coursing, DoubledMember, FixtureAt, Framing, HousingGiven, Layer, NearThing, Obstacle,
    RoomPlan, RoomWall, Space, WayOut, WetZone,
};
use crate::reader::{Context, Element, IdScope, Reader};

pub(super) fn read_plan(context: &mut Context<'_>, room: &Reader<'_>) -> RoomPlan {
    RoomPlan {
        outline: room.outline(context, "plan"),
        at: room.place(context, "at"),
        length_along: room.choice(context, "length_along"),
        floor_level: room.quantity(context, "floor_level"),
        measured: room.choice(context, "measured"),
        drywall: room.quantity(context, "drywall"),
        ceiling_drywall: room.quantity(context, "ceiling_drywall"),
        walls: within(context, room, "wall", |context, id, wall| RoomWall {
            id,
            corner: wall.count(context, "corner"),
            outside: wall.yes_no(context, "outside"),
            separation: wall.choice(context, "separation"),
            layers: read_layers(context, wall),
        }),
        wet: within(context, room, "wet", |context, id, wet| WetZone {
            id,
            at: wet.place(context, "at"),
            size: wet.place(context, "size"),
        }),
        fixtures: within(context, room, "fixture_at", |context, id, fixture| FixtureAt {
            id,
            kind: fixture.choice(context, "kind"),
            at: fixture.place(context, "at"),
        }),
        wish: room.wish(context, "wish"),
    }
}

fn within<T>(
    context: &mut Context<'_>,
    above: &Reader<'_>,
    name: &'static str,
    read: impl Fn(&mut Context<'_>, String, &Reader<'_>) -> T,
) -> Vec<T> {
    above
        .elements(context, name, &IdScope::Within)
        .into_iter()
        .map(|Element { id, reader }| read(context, id, &reader))
        .collect()
}

fn read_layers(context: &mut Context<'_>, wall: &Reader<'_>) -> Vec<Layer> {
    within(context, wall, "layers", |context, _, layer| Layer {
        material: layer.choice(context, "material"),
        thickness: layer.quantity(context, "thickness"),
    })
}

pub(super) fn read_framing(context: &mut Context<'_>, id: String, framing: &Reader<'_>) -> Framing {
    Framing {
        id,
        kind: framing.choice(context, "kind"),
        size: framing.choice(context, "size"),
        actual: framing.place(context, "actual"),
        spacing: framing.quantity(context, "spacing"),
        direction: framing.choice(context, "direction"),
        first: framing.quantity(context, "first"),
        at: framing.place(context, "at"),
        extent: framing.place(context, "extent"),
        bottom: framing.quantity(context, "bottom"),
        bearings: framing.place(context, "bearings"),
        span: framing.quantity(context, "span"),
        above: framing.choice(context, "above"),
        separation: framing.choice(context, "separation"),
        doubles: within(context, framing, "double", |context, _, double| DoubledMember {
            member: double.count(context, "member"),
            side: double.choice(context, "side"),
        }),
    }
}

pub(super) fn read_space(context: &mut Context<'_>, id: String, space: &Reader<'_>) -> Space {
    Space {
        id,
        kind: space.choice(context, "kind"),
        at: space.place(context, "at"),
        size: space.place(context, "size"),
    }
}

pub(super) fn read_obstacle(
    context: &mut Context<'_>,
    id: String,
    obstacle: &Reader<'_>,
) -> Obstacle {
    Obstacle {
        id,
        kind: obstacle.choice(context, "kind"),
        at: obstacle.place(context, "at"),
        size: obstacle.place(context, "size"),
    }
}

pub(super) fn read_way_out(context: &mut Context<'_>, id: String, way: &Reader<'_>) -> WayOut {
    let coursing = way.section(context, "coursing");
    WayOut {
        id,
        kind: way.choice(context, "kind"),
        facing: way.choice(context, "facing"),
        at: way.place(context, "at"),
        size: way.place(context, "size"),
        terminal: way.reference(context, "terminal"),
        terminal_at: way.place(context, "terminal_at"),
        opening: way.size(context, "opening"),
        separation: way.choice(context, "separation"),
        layers: read_layers(context, way),
        coursing: Coursing {
            course: coursing.quantity(context, "course"),
            joint: coursing.quantity(context, "joint"),
            unit: coursing.quantity(context, "unit"),
            bed: coursing.quantity(context, "bed"),
        },
        slope: way.quantity(context, "slope"),
        pitch: way.quantity(context, "pitch"),
        cover: way.choice(context, "cover"),
        near: within(context, way, "near", |context, id, near| NearThing {
            id,
            kind: near.choice(context, "kind"),
            opens: near.yes_no(context, "opens"),
            at: near.place(context, "at"),
            size: near.place(context, "size"),
        }),
    }
}

pub(super) fn read_housing(context: &mut Context<'_>, fan: &Reader<'_>) -> HousingGiven {
    HousingGiven {
        outlet_side: fan.choice(context, "outlet_side"),
        outlet_offset: fan.quantity(context, "outlet_offset"),
        outlet_height: fan.quantity(context, "outlet_height"),
        collar: fan.quantity(context, "collar"),
        flange: fan.quantity(context, "flange"),
    }
}
