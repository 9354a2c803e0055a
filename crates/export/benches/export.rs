//! How long it takes to open and save a project and to measure it for the report.

#![expect(clippy::expect_used, reason = "a bench of nothing should stop")]

use std::hint::black_box;

use cornerwise_export::demo::DEMOS;
use cornerwise_export::{files, paper, pdf, report};
use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};

fn project_files(c: &mut Criterion) {
    let mut group = c.benchmark_group("project file");
    for demo in &DEMOS {
        group.bench_function(BenchmarkId::new("load", demo.file_name), |b| {
            b.iter(|| files::read_text(black_box(demo.text)).expect("a demo"));
        });
    }
    let project = DEMOS[0].project().expect("a demo");
    group.bench_function("write", |b| b.iter(|| files::write_text(black_box(&project)).expect("written")));
    group.finish();
}

fn reports(c: &mut Criterion) {
    let project = DEMOS[0].project().expect("a demo");
    let mut group = c.benchmark_group("report");
    for stations in [33, 512] {
        group.bench_function(BenchmarkId::new("measure", stations), |b| {
            b.iter(|| report::report(black_box(&project), stations).expect("measured"));
        });
    }
    group.finish();
}

/// The paper of the first demo: the sheets, and the PDF of them. The aim is under 50 ms together.
fn paper_of_a_demo(c: &mut Criterion) {
    let project = DEMOS[0].project().expect("a demo");
    let sheets = paper::project_sheets(&project).expect("printable");
    let mut group = c.benchmark_group("paper");
    group.bench_function("sheets", |b| b.iter(|| paper::project_sheets(black_box(&project)).expect("printable")));
    group.bench_function("pdf", |b| b.iter(|| pdf::pdf(black_box(&sheets), &project.name).expect("written")));
    group.finish();
}

criterion_group!(benches, project_files, reports, paper_of_a_demo);
criterion_main!(benches);
