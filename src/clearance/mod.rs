//! Track, cars and structure -> checks.
