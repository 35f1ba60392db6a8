//! Parts and stock -> plans for sticks and sheets.
