//! Parts and plans -> a drawing that knows no file format.
