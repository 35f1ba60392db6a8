//! Sums of the trade on plain lengths, each with the source of its formula.
//!
//! | file | what |
//! |---|---|
//! | `rows` | courses, planks, posts, stairs, slates |
//! | `roof` | lengths along a slope, hips, valleys |
//! | `frame` | braces |
//! | `curve` | radius, degree of curve, mid-ordinate |
//! | `circle` | circles, arches, mitres |
//! | `fit` | fits, and what a beam eats |

pub mod circle;
pub mod curve;
pub mod fit;
pub mod frame;
pub mod roof;
pub mod rows;
