//! Saves and prints: project files, sheets and their writers, pictures, reports.

pub mod along_csv;
pub mod curves;
pub mod demo;
pub mod files;
pub mod page;
pub mod paper;
pub mod pdf;
pub mod picture;
pub mod pictures;
pub mod plan;
pub mod report;
pub mod sheets;
