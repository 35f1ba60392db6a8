//! AC1015: every object has a handle and an owner, and the drawing its unit.

use super::{DxfUnit, Groups, LAYERS, cut, extent, lines, text_groups};
use crate::drawing::{Drawing, Shape};

/// Handles given by hand: model and paper space and their blocks, the tables,
/// the root dictionary.
const MODEL: &str = "1F";
const PAPER: &str = "1B";
const BLOCKS: &str = "1";
const ROOT: &str = "C";
const GROUPS: &str = "D";

pub(super) fn write(drawing: &Drawing, unit: DxfUnit, notes: &[String]) -> String {
    let mut body = Groups::default();
    classes_and_tables(&mut body);
    blocks(&mut body);
    entities(&mut body, drawing, unit);
    objects(&mut body);
    let mut out = Groups::default();
    for note in notes {
        out.text(999, note);
    }
    header(&mut out, drawing, unit, &body.next_handle());
    out.append(&body);
    out.finish()
}

fn header(out: &mut Groups, drawing: &Drawing, unit: DxfUnit, seed: &str) {
    let [least, most] = extent(drawing, unit);
    out.all(&[(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1015")]);
    out.all(&[(9, "$DWGCODEPAGE"), (3, "ANSI_1252"), (9, "$HANDSEED"), (5, seed)]);
    out.text(9, "$INSUNITS").whole(70, i32::from(unit.code()));
    out.text(9, "$MEASUREMENT").whole(70, i32::from(unit == DxfUnit::Millimetres));
    for (name, [x, y]) in [("$EXTMIN", least), ("$EXTMAX", most)] {
        out.text(9, name).number(10, x).number(20, y).number(30, 0.0);
    }
    out.all(&[(0, "ENDSEC")]);
}

fn table(out: &mut Groups, name: &str, handle: &str, count: usize) {
    out.all(&[(0, "TABLE"), (2, name), (5, handle), (330, "0"), (100, "AcDbSymbolTable")]);
    out.whole(70, count as i32);
}

/// An entry of a table up to its own groups.
fn entry(out: &mut Groups, kind: &str, owner: &str, class: &str, name: &str) {
    let handle = out.handle();
    entry_with(out, kind, &handle, owner, class);
    out.all(&[(2, name)]);
}

fn entry_with(out: &mut Groups, kind: &str, handle: &str, owner: &str, class: &str) {
    out.all(&[(0, kind), (5, handle), (330, owner)]);
    out.all(&[(100, "AcDbSymbolTableRecord"), (100, class)]);
}

fn classes_and_tables(out: &mut Groups) {
    out.all(&[(0, "SECTION"), (2, "CLASSES"), (0, "ENDSEC"), (0, "SECTION"), (2, "TABLES")]);
    table(out, "VPORT", "8", 0);
    out.all(&[(0, "ENDTAB")]);
    table(out, "LTYPE", "5", 3);
    for name in ["ByBlock", "ByLayer", "Continuous"] {
        entry(out, "LTYPE", "5", "AcDbLinetypeTableRecord", name);
        out.all(&[(70, "0"), (3, ""), (72, "65"), (73, "0"), (40, "0.0")]);
    }
    out.all(&[(0, "ENDTAB")]);
    table(out, "LAYER", "2", LAYERS.len() + 1);
    for name in ["0"].into_iter().chain(LAYERS.iter().map(|layer| layer.word())) {
        entry(out, "LAYER", "2", "AcDbLayerTableRecord", name);
        out.all(&[(70, "0"), (62, "7"), (6, "Continuous"), (370, "-3"), (390, "F")]);
    }
    out.all(&[(0, "ENDTAB")]);
    table(out, "STYLE", "3", 1);
    entry(out, "STYLE", "3", "AcDbTextStyleTableRecord", "Standard");
    out.all(&[(70, "0"), (40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0"), (42, "2.5")]);
    out.all(&[(3, "txt"), (4, ""), (0, "ENDTAB")]);
    for (name, handle) in [("VIEW", "6"), ("UCS", "7")] {
        table(out, name, handle, 0);
        out.all(&[(0, "ENDTAB")]);
    }
    table(out, "APPID", "9", 1);
    entry(out, "APPID", "9", "AcDbRegAppTableRecord", "ACAD");
    out.all(&[(70, "0"), (0, "ENDTAB")]);
    dimension_styles(out);
    table(out, "BLOCK_RECORD", BLOCKS, 2);
    for (name, handle) in [("*Model_Space", MODEL), ("*Paper_Space", PAPER)] {
        entry_with(out, "BLOCK_RECORD", handle, BLOCKS, "AcDbBlockTableRecord");
        out.all(&[(2, name), (340, "0")]);
    }
    out.all(&[(0, "ENDTAB"), (0, "ENDSEC")]);
}

/// The table has a class of its own, and its entries their handle under 105.
fn dimension_styles(out: &mut Groups) {
    table(out, "DIMSTYLE", "A", 1);
    out.all(&[(100, "AcDbDimStyleTable"), (71, "0")]);
    let handle = out.handle();
    out.all(&[(0, "DIMSTYLE"), (105, &handle), (330, "A")]);
    out.all(&[(100, "AcDbSymbolTableRecord"), (100, "AcDbDimStyleTableRecord")]);
    out.all(&[(2, "Standard"), (70, "0"), (0, "ENDTAB")]);
}

fn blocks(out: &mut Groups) {
    out.all(&[(0, "SECTION"), (2, "BLOCKS")]);
    for (name, owner, paper) in [("*Model_Space", MODEL, false), ("*Paper_Space", PAPER, true)] {
        for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
            let handle = out.handle();
            out.all(&[(0, kind), (5, &handle), (330, owner), (100, "AcDbEntity")]);
            if paper {
                out.all(&[(67, "1")]);
            }
            out.all(&[(8, "0"), (100, class)]);
            if kind == "BLOCK" {
                out.all(&[(2, name), (70, "0"), (10, "0.0"), (20, "0.0"), (30, "0.0")]);
                out.all(&[(3, name), (1, "")]);
            }
        }
    }
    out.all(&[(0, "ENDSEC")]);
}

fn entities(out: &mut Groups, drawing: &Drawing, unit: DxfUnit) {
    out.all(&[(0, "SECTION"), (2, "ENTITIES")]);
    let begin = |out: &mut Groups, kind: &str, layer: &str, class: &str| {
        let handle = out.handle();
        out.all(&[(0, kind), (5, &handle), (330, MODEL), (100, "AcDbEntity"), (8, layer)]);
        out.all(&[(100, class)]);
    };
    for line in lines(drawing) {
        begin(out, "LWPOLYLINE", line.layer.word(), "AcDbPolyline");
        out.whole(90, line.points.len() as i32).whole(70, i32::from(line.closed));
        for point in line.points {
            let [x, y] = unit.point(*point);
            out.number(10, x).number(20, y);
        }
    }
    for item in cut(drawing).filter(|item| matches!(item.shape, Shape::Text { .. })) {
        begin(out, "TEXT", item.layer.word(), "AcDbText");
        text_groups(out, item, unit);
        out.all(&[(100, "AcDbText")]);
    }
    out.all(&[(0, "ENDSEC")]);
}

fn objects(out: &mut Groups) {
    out.all(&[(0, "SECTION"), (2, "OBJECTS")]);
    out.all(&[(0, "DICTIONARY"), (5, ROOT), (330, "0"), (100, "AcDbDictionary"), (281, "1")]);
    out.all(&[(3, "ACAD_GROUP"), (350, GROUPS), (3, "ACAD_PLOTSTYLENAME"), (350, "E")]);
    out.all(&[(0, "DICTIONARY"), (5, GROUPS), (330, ROOT), (100, "AcDbDictionary"), (281, "1")]);
    // Layers point at the plot style, which is a placeholder.
    out.all(&[(0, "ACDBDICTIONARYWDFLT"), (5, "E"), (330, ROOT), (100, "AcDbDictionary")]);
    out.all(&[(281, "1"), (3, "Normal"), (350, "F"), (100, "AcDbDictionaryWithDefault")]);
    out.all(&[(340, "F"), (0, "ACDBPLACEHOLDER"), (5, "F"), (330, "E"), (0, "ENDSEC")]);
}
