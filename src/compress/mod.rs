//! Dimensions and space -> alternatives -> compressed dimensions.
