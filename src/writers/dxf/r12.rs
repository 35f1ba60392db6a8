//! AC1009.

use super::{DxfUnit, Groups, LAYERS, cut, extent, lines, text_groups};
use crate::drawing::{Drawing, Shape};

pub(super) fn write(drawing: &Drawing, unit: DxfUnit, notes: &[String]) -> String {
    let mut out = Groups::default();
    for note in notes {
        out.text(999, note);
    }
    header(&mut out, drawing, unit);
    tables(&mut out);
    out.all(&[(0, "SECTION"), (2, "ENTITIES")]);
    for line in lines(drawing) {
        let layer = line.layer.word();
        out.all(&[(0, "POLYLINE"), (8, layer), (66, "1")]);
        out.number(10, 0.0).number(20, 0.0).number(30, 0.0);
        out.whole(70, i32::from(line.closed));
        for point in line.points {
            let [x, y] = unit.point(*point);
            out.all(&[(0, "VERTEX"), (8, layer)]);
            out.number(10, x).number(20, y).number(30, 0.0);
        }
        out.all(&[(0, "SEQEND"), (8, layer)]);
    }
    for item in cut(drawing).filter(|item| matches!(item.shape, Shape::Text { .. })) {
        out.all(&[(0, "TEXT"), (8, item.layer.word())]);
        text_groups(&mut out, item, unit);
    }
    out.all(&[(0, "ENDSEC")]);
    out.finish()
}

fn header(out: &mut Groups, drawing: &Drawing, unit: DxfUnit) {
    let [least, most] = extent(drawing, unit);
    out.all(&[(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009")]);
    for (name, [x, y]) in [("$EXTMIN", least), ("$EXTMAX", most)] {
        out.text(9, name).number(10, x).number(20, y).number(30, 0.0);
    }
    out.all(&[(0, "ENDSEC")]);
}

fn tables(out: &mut Groups) {
    out.all(&[(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LTYPE"), (70, "1")]);
    out.all(&[(0, "LTYPE"), (2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65")]);
    out.all(&[(73, "0"), (40, "0.0"), (0, "ENDTAB"), (0, "TABLE"), (2, "LAYER")]);
    out.whole(70, LAYERS.len() as i32 + 1);
    for name in ["0"].into_iter().chain(LAYERS.iter().map(|layer| layer.word())) {
        out.all(&[(0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, "CONTINUOUS")]);
    }
    out.all(&[(0, "ENDTAB"), (0, "ENDSEC")]);
}
