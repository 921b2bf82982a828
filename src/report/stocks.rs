//! Stocks as a table for the screen and as JSON.

use std::fmt::Write;

use serde_json::{Value, json};

use crate::finding::visible;
use crate::stock::{SWIM_ARC_MINUTES, Stock, cap_height_mm};

/// The size after cutting as it is called: "4 x 6 in (101.6 x 152.4 mm)".
pub fn size(stock: &Stock) -> String {
    let (width, height) = stock.edges();
    let mm = format!("{width} x {height} mm");
    match stock.in_inches {
        true => format!("{} x {} in ({mm})", width.inches_text(), height.inches_text()),
        false => mm,
    }
}

/// The pattern of the holes, or how many there are.
pub fn holes(stock: &Stock) -> String {
    match (stock.punch, stock.holes.len()) {
        (Some(punch), _) => punch.to_string(),
        (None, 0) => "none".to_owned(),
        (None, count) => count.to_string(),
    }
}

/// One line a stock, by the names they are asked for.
pub fn table(stocks: &[(String, Stock)]) -> String {
    let mut rows = vec![
        ["stock", "size", "way up", "margin", "holes", "read from", "swim line at least"]
            .map(str::to_owned),
    ];
    for (name, stock) in stocks {
        let cap_mm = cap_height_mm(stock.reading, SWIM_ARC_MINUTES);
        rows.push([
            visible::line(name).into_owned(),
            size(stock),
            stock.orientation.to_string(),
            format!("{} mm", stock.margin),
            holes(stock),
            format!("{} mm", stock.reading),
            format!("capitals of {cap_mm:.1} mm"),
        ]);
    }
    let mut widths = [0; 7];
    for row in &rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    let mut out = String::new();
    for row in rows {
        let line: Vec<String> =
            row.iter().zip(widths).map(|(cell, width)| format!("{cell:<width$}")).collect();
        // Writing to a string cannot fail.
        let _ = writeln!(out, "{}", line.join("  ").trim_end());
    }
    out
}

/// One stock as an object.
pub fn json(name: &str, stock: &Stock) -> Value {
    let (width, height) = stock.edges();
    let rounded = |number: f64| (number * 1000.0).round() / 1000.0;
    let mm = |extent: crate::measure::Extent| rounded(f64::from(extent.mm()));
    let holes: Vec<Value> = stock
        .holes
        .iter()
        .map(|hole| json!({"x_mm": mm(hole.x), "y_mm": mm(hole.y), "diameter_mm": mm(hole.diameter)}))
        .collect();
    json!({
        "stock": name,
        "name": stock.name,
        "width_mm": mm(width),
        "height_mm": mm(height),
        "inches": stock.in_inches,
        "orientation": stock.orientation.to_string(),
        "margin_mm": mm(stock.margin),
        "holes": holes,
        "reading_mm": mm(stock.reading),
        "least_swim_capitals_mm": rounded(cap_height_mm(stock.reading, SWIM_ARC_MINUTES)),
        "back": stock.back,
    })
}
