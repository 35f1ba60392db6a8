//! Views set in type for paper.

pub mod contents;
pub mod cut_list;
pub mod flow;
pub mod half_page;
pub mod wall;
