//! How a housing is fastened where it hangs, in words.

use dewpath_layout::place::{Face, Mount, Place};
use dewpath_message::slot::{Count, LengthM, Name, Reference};
use dewpath_report::say::{
    PlaceFastenBars, PlaceFastenBarsKey, PlaceFastenBlocks, PlaceFastenFace, PlaceFastenFaceKey,
};
use dewpath_report::{Message, Triple};

/// What to fasten to what: the face of each member that ears or screws reach, blocks with their fastening, and hanger bars as the
/// other way.
pub(super) fn fastening(place: &Place, size: &str) -> Vec<Message> {
    let Mount { faces, blocks, bars } = &place.mount;
    let mut told: Vec<Message> = faces.iter().filter_map(face).collect();
    let clear = place.mount.clear_blocks().count();
    if let (1.., Some(block)) = (clear, blocks.first()) {
        told.push(Message::from(PlaceFastenBlocks {
            count: Count(Triple::exact(clear as f64)),
            size: Name::new(size),
            length: length(block.length_m),
        }));
    }
    if let Some(bars) = bars {
        told.push(Message::from(PlaceFastenBars {
            key: if clear == 0 { PlaceFastenBarsKey::BarsAlone } else { PlaceFastenBarsKey::Bars },
            count: Count(Triple::exact(f64::from(bars.count))),
            span: length(bars.span_m),
        }));
    }
    told
}

/// One side of the bay; none where no member is known to stand there, which is asked about elsewhere.
fn face(face: &Face) -> Option<Message> {
    let member = face.member.as_ref()?;
    let key = if face.fastened { PlaceFastenFaceKey::Face } else { PlaceFastenFaceKey::Gap };
    Some(Message::from(PlaceFastenFace {
        key,
        member: Reference::new(member),
        gap: length(face.gap_m),
    }))
}

fn length(value: f64) -> LengthM {
    LengthM(Triple::exact(value))
}
