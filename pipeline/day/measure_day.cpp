#include "day/measure_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <fstream>
#include <map>

#include "book/links.h"
#include "book/measured_parts.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "day/lens_day.h"
#include "day/sheet_choice.h"
#include "errors.h"
#include "measure/standard_size.h"

namespace stripbook::day {

namespace {

// One photo that can be measured: its part, its marker, and what the job is.
struct Ready {
    book::Measurement measurement;  // all but the result
    MeasureJob job;
    bool refused = false;  // before any pixel was looked at
};

const book::Sighting* marker_in(const std::vector<book::Sighting>& seen) {
    const auto found = std::find_if(seen.begin(), seen.end(), [](const book::Sighting& s) {
        return s.kind == book::SightingKind::scale_marker && s.confirmed;
    });
    return found == seen.end() ? nullptr : &*found;
}

std::vector<std::vector<cv::Point2d>> not_part(const std::vector<book::Sighting>& seen) {
    std::vector<std::vector<cv::Point2d>> outlines;
    for (const auto& s : seen) {
        if (s.kind != book::SightingKind::scale_marker && s.kind != book::SightingKind::stage_card) {
            outlines.emplace_back();
            for (const auto& corner : s.corners_px) {
                outlines.back().emplace_back(corner.x, corner.y);
            }
        }
    }
    return outlines;
}

// What the values follow from. The lens profile grows with every bench shot; that alone is no reason to
// measure everything again each day.
std::string basis_of(const Ready& ready, const book::Sighting& marker) {
    const auto& job = ready.job;
    std::string text =
        fmt::format("version {}; {}; sheet {:.5f} {:.5f} {:.5f}; lens {}; height {}; marker",
                    measuring_version, ready.refused ? "refused" : "measured", job.correction.across,
                    job.correction.along, job.correction.u_relative, job.lens.photos > 0 ? "profile" : "EXIF",
                    job.face_height_mm ? book::number_text(*job.face_height_mm) : "not told");
    for (const auto& fiducial : marker.marker_corners) {
        text += fmt::format(" {}:{:.1f},{:.1f}", fiducial.identity, fiducial.corners_px[0].x,
                            fiducial.corners_px[0].y);
    }
    return text;
}

std::optional<Ready> ready_for(const book::Book& book, const book::Photo& photo, const number::TagNumber& tag,
                               const std::vector<book::MarkerSheet>& sheets, const MeasureOptions& options) {
    const auto seen = book::sightings_of(book, photo.number);
    const auto* marker = marker_in(seen);
    if (marker == nullptr) {
        return std::nullopt;
    }
    Ready ready{book::Measurement(tag), {}, false};
    const auto part = book::find_part(book, tag);
    const auto sheet = choose_sheet(marker->text, sheets, seen, options.unmeasured_too);
    const auto lens = lens_for(book, photo);
    ready.job.path = (book.folder() / photo.original.stored_path).string();
    ready.job.orientation = photo.orientation;
    ready.job.marker = fiducials_of(*marker);
    ready.job.lens = lens.lens;
    ready.job.face_height_mm = options.face_height_mm ? options.face_height_mm
                               : part                 ? part->face_height_mm
                                                      : std::nullopt;
    ready.job.not_part_px = not_part(seen);
    if (sheet.correction) {
        ready.job.correction = *sheet.correction;
    }
    auto& m = ready.measurement;
    m.photo = photo.number;
    m.who = options.who;
    m.version = measuring_version;
    m.marker = marker->text;
    m.sheet = sheet.words;
    m.lens = lens.words;
    m.face_height_mm = ready.job.face_height_mm;
    m.refusal = sheet.refusal;
    if (m.refusal.empty() && ready.job.marker.empty()) {
        m.refusal = "the photo was read before its marker's corners were kept; run stripbook read --again";
    }
    ready.refused = !m.refusal.empty();
    m.basis = basis_of(ready, *marker);
    return ready;
}

std::map<book::PhotoNumber, std::vector<number::TagNumber>> parts_by_photo(const book::Book& book) {
    std::map<book::PhotoNumber, std::vector<number::TagNumber>> parts;
    for (const auto& link : book::all_links(book)) {
        parts[link.photo].push_back(link.tag);
    }
    return parts;
}

bool measured_so_before(const book::Book& book, const Ready& ready) {
    const auto known = book::measurements_in(book, ready.measurement.photo);
    return std::any_of(known.begin(), known.end(), [&ready](const book::Measurement& m) {
        return !m.by_hand && m.tag == ready.measurement.tag && m.basis == ready.measurement.basis;
    });
}

std::string hint_for(const measure::Dimension& dimension) {
    if (dimension.kind != measure::DimensionKind::hole_diameter) {
        return "";
    }
    std::string hint;
    for (const auto& size : measure::nearest_standard_sizes(dimension.value, dimension.expanded())) {
        hint += (hint.empty() ? "" : "; ") + size.name;
    }
    return hint;
}

book::DimensionRecord record_of(const measure::Dimension& d) {
    book::DimensionRecord record;
    record.number = d.number;
    record.name = measure::name_of(d.kind);
    record.value = d.value;
    record.expanded = d.expanded();
    record.unit = measure::unit_of(d.kind);
    record.holes = d.holes;
    record.note = d.note;
    record.hint = hint_for(d);
    for (const auto& component : d.budget.components) {
        record.budget.emplace_back(component.name, component.u);
    }
    return record;
}

MeasureAnswer answer_of(const photo::Outcome& outcome) {
    if (outcome.end == photo::Outcome::End::done) {
        try {
            return measure_answer_from(outcome.bytes);
        } catch (const std::exception&) {
            return {"the measuring came back garbled", {}, {}, ""};
        }
    }
    return {"could not be measured: " + outcome.note, {}, {}, ""};
}

void write_overlay(const book::Book& book, const book::Measurement& measurement, const std::string& jpeg) {
    // It can be computed again: a disk that is full costs the picture, not the numbers.
    const auto file = book::overlay_file(book, measurement);
    std::error_code ignored;
    std::filesystem::create_directories(file.parent_path(), ignored);
    std::ofstream(file, std::ios::binary) << jpeg;
}

book::Measurement keep(book::Book& book, book::Measurement m, const MeasureAnswer& answer) {
    m.refusal = answer.refusal;
    m.notes = answer.notes;
    for (const auto& dimension : answer.dimensions) {
        m.dimensions.push_back(record_of(dimension));
    }
    // A point picked wrong is told and picked again: it is nothing to keep or to show in a report.
    if (m.by_hand && !m.refusal.empty()) {
        return m;
    }
    m.id = book::save_measurement(book, m);
    if (!answer.overlay_jpeg.empty()) {
        write_overlay(book, m, answer.overlay_jpeg);
    }
    return m;
}

void run_jobs(book::Book& book, const std::vector<Ready>& ready, const MeasureOptions& options,
              MeasureOutcome& outcome) {
    std::vector<std::string> jobs;
    jobs.reserve(ready.size());
    for (const auto& one : ready) {
        jobs.push_back(to_job(one.job));
    }
    ReadProgress progress{0, jobs.size()};
    const auto when_done = [&](std::size_t index, const photo::Outcome& done) {
        outcome.measured.push_back(keep(book, ready[index].measurement, answer_of(done)));
        ++progress.done;
        if (options.progress) {
            options.progress(progress);
        }
    };
    photo::run_in_workers(answer_to_measure_job, jobs, options.limits, when_done, options.stop);
}

}  // namespace

MeasureOutcome measure_parts(book::Book& book, const MeasureWhich& which, const MeasureOptions& options) {
    estimate_lenses(book);
    const auto sheets = book::marker_sheets(book);
    MeasureOutcome outcome;
    std::vector<Ready> ready;
    const auto with_marker = book::photos_with_scale_marker(book);
    for (const auto& [number, tags] : parts_by_photo(book)) {
        if (tags.size() != 1 || with_marker.count(number) == 0 || (which.photo && *which.photo != number) ||
            (which.part && *which.part != tags.front())) {
            continue;
        }
        auto one = ready_for(book, *book::find_photo(book, number), tags.front(), sheets, options);
        if (!one) {
            continue;
        }
        if (!options.again && measured_so_before(book, *one)) {
            ++outcome.as_they_were;
        } else if (one->refused) {
            outcome.measured.push_back(keep(book, one->measurement, {one->measurement.refusal, {}, {}, ""}));
        } else {
            ready.push_back(std::move(*one));
        }
    }
    run_jobs(book, ready, options, outcome);
    std::sort(outcome.measured.begin(), outcome.measured.end(),
              [](const book::Measurement& a, const book::Measurement& b) { return a.photo < b.photo; });
    for (const auto& measurement : outcome.measured) {
        for (auto& line : book::contradictions(book, measurement)) {
            outcome.contradictions.push_back(std::move(line));
        }
    }
    return outcome;
}

book::Measurement measure_picked(book::Book& book, book::PhotoNumber photo, const PickedPoints& picked,
                                 const MeasureOptions& options) {
    const auto parts = parts_by_photo(book);
    const auto tags = parts.find(photo);
    if (tags == parts.end() || tags->second.size() != 1) {
        throw WrongUse(fmt::format("{} is linked to {}: link it to the one part that is measured first",
                                   photo.text(), tags == parts.end() ? "no part" : "several parts"));
    }
    auto ready = ready_for(book, *book::find_photo(book, photo), tags->second.front(),
                           book::marker_sheets(book), options);
    if (!ready) {
        throw WrongUse(
            fmt::format("no scale marker was seen in {}: measure in a photo with one", photo.text()));
    }
    ready->measurement.by_hand = true;
    if (ready->refused) {
        return ready->measurement;
    }
    ready->job.picked = picked;
    MeasureOutcome outcome;
    run_jobs(book, {*ready}, options, outcome);
    return outcome.measured.front();
}

}  // namespace stripbook::day
