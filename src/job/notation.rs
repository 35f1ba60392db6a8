//! The door from job-file text to lengths.

use crate::quantity::{Length, Space};

/// Reads a length with its unit.
pub(super) fn length<S: Space>(text: &str) -> Result<Length<S>, String> {
    let mut inches = 0.0;
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut pending = 0.0;
    for word in words {
        match word {
            "ft" => {
                inches += pending * 12.0;
                pending = 0.0;
            }
            "in" => {
                inches += pending;
                pending = 0.0;
            }
            "thou" => {
                inches += pending / 1000.0;
                pending = 0.0;
            }
            "mm" => {
                inches += pending / 25.4;
                pending = 0.0;
            }
            "m" => {
                inches += pending / 0.0254;
                pending = 0.0;
            }
            _ => {
                let (sign, word) = word.strip_prefix('-').map_or((1.0, word), |w| (-1.0, w));
                let value = match word.split_once('/') {
                    Some((a, b)) => {
                        a.parse::<f64>().map_err(|e| e.to_string())?
                            / b.parse::<f64>().map_err(|e| e.to_string())?
                    }
                    None => word.parse::<f64>().map_err(|e| format!("{word}: {e}"))?,
                };
                pending += sign * value;
            }
        }
    }
    if pending.abs() > 0.0 {
        return Err(format!("\"{text}\" has no unit"));
    }
    Ok(Length::inches(inches))
}
