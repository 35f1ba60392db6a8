//! The views as tables, and the tables as text, JSON and files.
