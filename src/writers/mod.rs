//! Drawings and pages -> files, one format a file.
//!
//! | file | writes |
//! |---|---|
//! | `pdf` | pages at 1:1, corrected by the print check |
//! | `png` | a page as a picture |
//! | `svg` | a drawing in millimetres, for a laser or a drawing program |
//! | `dxf` | a drawing as R12, or as R2000 with its unit |
//! | `csv` | a list, in which no cell begins a formula |
//! | `glyphs` | letters as curves, where a format has none of its own |
//! | `save` | files on disk, never over one that is there |

pub mod csv;
pub mod dxf;
pub mod glyphs;
pub mod pdf;
pub mod png;
pub mod save;
pub mod svg;
