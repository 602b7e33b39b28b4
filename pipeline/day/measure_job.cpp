// The job and its answer as text and back.
#include "day/measure_job.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace stripbook::day {

namespace {

using nlohmann::json;

json to_json(const std::vector<cv::Point2d>& points) {
    json list = json::array();
    for (const auto& p : points) {
        list.push_back({p.x, p.y});
    }
    return list;
}

std::vector<cv::Point2d> points_from(const json& j) {
    std::vector<cv::Point2d> points;
    for (const auto& p : j) {
        points.emplace_back(p.at(0).get<double>(), p.at(1).get<double>());
    }
    return points;
}

json to_json(const scale::LensProfile& lens) {
    return {
        {"width", lens.size_px.width},
        {"height", lens.size_px.height},
        {"focal", lens.focal_px},
        {"centre", {lens.centre_px.x, lens.centre_px.y}},
        {"k", {lens.k1, lens.k2}},
        {"covariance", std::vector<double>(std::begin(lens.covariance.val), std::end(lens.covariance.val))},
        {"photos", lens.photos},
        {"rms", lens.residual_rms_px}};
}

scale::LensProfile lens_from(const json& j) {
    scale::LensProfile lens;
    lens.size_px = {j.at("width").get<int>(), j.at("height").get<int>()};
    lens.focal_px = j.at("focal");
    lens.centre_px = {j.at("centre").at(0).get<double>(), j.at("centre").at(1).get<double>()};
    lens.k1 = j.at("k").at(0);
    lens.k2 = j.at("k").at(1);
    const auto covariance = j.at("covariance").get<std::vector<double>>();
    std::copy_n(covariance.begin(), std::min<std::size_t>(covariance.size(), std::size(lens.covariance.val)),
                lens.covariance.val);
    lens.photos = j.at("photos");
    lens.residual_rms_px = j.at("rms");
    return lens;
}

json to_json(const measure::Dimension& d) {
    json budget = json::array();
    for (const auto& c : d.budget.components) {
        budget.push_back({{"name", c.name}, {"u", c.u}, {"dof", c.degrees_of_freedom}});
    }
    return {{"number", d.number}, {"kind", static_cast<int>(d.kind)},
            {"value", d.value},   {"budget", budget},
            {"holes", d.holes},   {"note", d.note}};
}

measure::Dimension dimension_from(const json& j) {
    measure::Dimension d;
    d.number = j.at("number");
    d.kind = static_cast<measure::DimensionKind>(j.at("kind").get<int>());
    d.value = j.at("value");
    for (const auto& c : j.at("budget")) {
        d.budget.components.push_back({c.at("name"), c.at("u"), c.at("dof")});
    }
    d.holes = j.at("holes").get<std::vector<int>>();
    d.note = j.at("note");
    return d;
}

}  // namespace

std::string to_job(const MeasureJob& job) {
    json marker = json::array();
    for (const auto& f : job.marker) {
        marker.push_back(
            {{"identity", f.identity},
             {"corners", to_json(std::vector<cv::Point2d>(f.corners.begin(), f.corners.end()))}});
    }
    json not_part = json::array();
    for (const auto& outline : job.not_part_px) {
        not_part.push_back(to_json(outline));
    }
    json j{{"path", job.path},
           {"orientation", job.orientation},
           {"marker", marker},
           {"lens", to_json(job.lens)},
           {"correction", {job.correction.across, job.correction.along, job.correction.u_relative}},
           {"not part", not_part}};
    if (job.face_height_mm) {
        j["face height"] = *job.face_height_mm;
    }
    if (job.picked) {
        j["picked"] = {{"circle", job.picked->circle},
                       {"points", to_json(job.picked->upright_px)},
                       {"snap", job.picked->snap}};
    }
    return j.dump();
}

MeasureJob measure_job_from(const std::string& text) {
    const json j = json::parse(text);
    MeasureJob job;
    job.path = j.at("path");
    job.orientation = j.at("orientation");
    for (const auto& m : j.at("marker")) {
        fiducial::Fiducial f;
        f.family = fiducial::Family::tag25h9;
        f.identity = m.at("identity");
        const auto corners = points_from(m.at("corners"));
        for (std::size_t i = 0; i < f.corners.size(); ++i) {
            f.corners[i] = corners.at(i);
            f.centre += f.corners[i] * 0.25;
        }
        job.marker.push_back(f);
    }
    job.lens = lens_from(j.at("lens"));
    job.correction = {j.at("correction").at(0), j.at("correction").at(1), j.at("correction").at(2)};
    for (const auto& outline : j.at("not part")) {
        job.not_part_px.push_back(points_from(outline));
    }
    if (j.contains("face height")) {
        job.face_height_mm = j.at("face height").get<double>();
    }
    if (j.contains("picked")) {
        const auto& picked = j.at("picked");
        job.picked = PickedPoints{picked.at("circle"), points_from(picked.at("points")), picked.at("snap")};
    }
    return job;
}

// The picture's bytes follow the text, which says where they begin.
std::string to_answer(const MeasureAnswer& answer) {
    json dimensions = json::array();
    for (const auto& d : answer.dimensions) {
        dimensions.push_back(to_json(d));
    }
    const json j{{"refusal", answer.refusal}, {"dimensions", dimensions}, {"notes", answer.notes}};
    return j.dump(-1, ' ', true, json::error_handler_t::replace) + '\n' + answer.overlay_jpeg;
}

MeasureAnswer measure_answer_from(const std::string& text) {
    const auto end = std::min(text.find('\n'), text.size());
    const json j = json::parse(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(end));
    MeasureAnswer answer;
    answer.refusal = j.at("refusal");
    for (const auto& d : j.at("dimensions")) {
        answer.dimensions.push_back(dimension_from(d));
    }
    answer.notes = j.at("notes").get<std::vector<std::string>>();
    answer.overlay_jpeg = end < text.size() ? text.substr(end + 1) : "";
    return answer;
}

}  // namespace stripbook::day
