#include "tag/read_tags.h"

#include <fmt/format.h>

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "number/code_word.h"
#include "number/tag_layout.h"
#include "tag/group.h"
#include "tag/in_place.h"

namespace stripbook::tag {

namespace {

using number::BookCode;
using number::TagLayout;
using number::TagNumber;

struct TagCode {
    TagNumber number;
    QrCode code;
};

std::array<cv::Point2d, 4> face_corners(const cv::Matx33d& photo_from_tag) {
    return {mapped(photo_from_tag, {0, 0}), mapped(photo_from_tag, {TagLayout::width, 0}),
            mapped(photo_from_tag, {TagLayout::width, TagLayout::height}),
            mapped(photo_from_tag, {0, TagLayout::height})};
}

// The group in the assignment that puts the tag's QR code where this one was seen, else nothing.
std::optional<Group> assigned_by(const QrCode& code, const Group& group) {
    // A quarter of the code's side: the other assignment would have it 33 mm away.
    constexpr double near_mm = TagLayout::qr_side / 4;
    for (const Group& candidate : {group, turned_by_half(group)}) {
        const cv::Point2d at = mapped(candidate.photo_from_tag.inv(), code.centre());
        if (cv::norm(at - cv::Point2d(TagLayout::qr_centre.x, TagLayout::qr_centre.y)) < near_mm) {
            return candidate;
        }
    }
    return std::nullopt;
}

// A fiducial that found no partner, put at the corner where it and the code lie on one tag.
std::optional<Group> lone_assigned_by(const QrCode& code, const Group& lone) {
    for (int corner = 0; corner < 4; ++corner) {
        const auto plane = plane_of_qr_and_fiducial(code.corners, *lone.at[0], corner);
        if (!plane) {
            continue;
        }
        Group group;
        group.at[static_cast<std::size_t>(corner)] = lone.at[0];
        group.photo_from_tag = *plane;
        return group;
    }
    return std::nullopt;
}

TagSighting read_with_code(const TagCode& code, const std::optional<Group>& group) {
    TagSighting sighting;
    sighting.by_qr = true;
    sighting.corners = face_corners(group ? group->photo_from_tag : plane_of_qr(code.code.corners));
    if (group) {
        const auto expected = number::identities_of(code.number);
        const auto seen = group->identities();
        for (std::size_t i = 0; i < 4; ++i) {
            sighting.fiducials_seen += seen[i] ? 1 : 0;
            sighting.fiducials_agreeing += seen[i] == expected[i] ? 1 : 0;
        }
        if (sighting.fiducials_agreeing < sighting.fiducials_seen) {
            sighting.doubt =
                fmt::format("the QR code says {} and {} of {} fiducials do not", code.number.text(),
                            sighting.fiducials_seen - sighting.fiducials_agreeing, sighting.fiducials_seen);
            sighting.suggestions.push_back(code.number);
            for (const auto& fit : number::fits_of(code.number.book(), seen)) {
                if (fit.tag != code.number) {
                    sighting.suggestions.push_back(fit.tag);
                }
            }
            return sighting;
        }
    }
    sighting.number = code.number;
    return sighting;
}

TagSighting read_without_code(const Group& group, const std::vector<BookCode>& books) {
    TagSighting sighting;
    sighting.fiducials_seen = group.count();
    sighting.corners = face_corners(group.photo_from_tag);
    std::vector<number::CodeWordReading> passing;
    for (const auto& book : books) {
        const auto reading = number::read_code_word(book, group.identities());
        if (reading.confirmed) {
            passing.push_back(reading);
        } else if (book == books.front()) {
            sighting.suggestions = reading.suggestions;
        }
    }
    if (passing.size() == 1) {
        sighting.number = passing.front().confirmed;
        sighting.suggestions.clear();
        sighting.fiducials_agreeing = sighting.fiducials_seen;
        if (passing.front().turned) {
            sighting.corners = face_corners(turned_by_half(group).photo_from_tag);
        }
        return sighting;
    }
    for (const auto& reading : passing) {
        sighting.suggestions.push_back(*reading.confirmed);
    }
    if (sighting.fiducials_seen == 1) {
        sighting.doubt = "one fiducial of a tag alone does not say a number";
    } else if (sighting.fiducials_seen == 2) {
        sighting.doubt = "two fiducials alone are not enough to be sure";
    } else if (sighting.fiducials_seen == 3) {
        sighting.doubt = "the three fiducials do not agree on one number";
    } else {
        sighting.doubt =
            fmt::format("four clear fiducials that say no number of {}: most likely a tag of another book",
                        books.front().text());
        sighting.suggestions.clear();
    }
    return sighting;
}

// Finds the group that belongs to each code and takes it out of `groups`.
std::optional<Group> take_group_of(const QrCode& code, std::vector<Group>& groups) {
    // Whole groups before lone fiducials: they fix the plane better.
    for (const bool lone : {false, true}) {
        for (auto it = groups.begin(); it != groups.end(); ++it) {
            if ((it->count() == 1) != lone) {
                continue;
            }
            if (auto assigned = lone ? lone_assigned_by(code, *it) : assigned_by(code, *it)) {
                groups.erase(it);
                return assigned;
            }
        }
    }
    return std::nullopt;
}

// Fiducials that found no partner but fit the tag of this code as well belong to it (a corner is bent, say).
void take_lone_fiducials(Group& group, const QrCode& code, std::vector<Group>& groups) {
    for (auto it = groups.begin(); it != groups.end();) {
        const auto fits = it->count() == 1 ? lone_assigned_by(code, *it) : std::nullopt;
        if (!fits) {
            ++it;
            continue;
        }
        for (std::size_t i = 0; i < 4; ++i) {
            if (fits->at[i] && !group.at[i]) {
                group.at[i] = fits->at[i];
            }
        }
        it = groups.erase(it);
    }
}

// The corners of a mottle taken for a fiducial's are those of no square on a flat face: carried on to a whole
// face, they cross or draw out to a point.
bool could_be_a_face(const TagSighting& sighting) {
    const auto& c = sighting.corners;
    double shortest = cv::norm(c[0] - c[3]);
    double longest = shortest;
    for (std::size_t i = 0; i + 1 < c.size(); ++i) {
        const double side = cv::norm(c[i + 1] - c[i]);
        shortest = std::min(shortest, side);
        longest = std::max(longest, side);
    }
    constexpr double most_drawn_out = 6;  // a face is no more than twice as wide as high
    return longest < most_drawn_out * shortest &&
           cv::isContourConvex(std::vector<cv::Point2f>(c.begin(), c.end()));
}

// The second look at a group without a code: where the code must be, and where fiducials are missing.
TagSighting look_again(const cv::Mat& grey, Group group, const std::vector<BookCode>& books) {
    if (group.count() <= 2) {
        add_fiducials_in_place(grey, group);
    }
    if (group.count() >= 2) {
        if (const auto code = read_qr_in_place(grey, group)) {
            const auto number = TagNumber::from_exact(code->text);
            const auto assigned = assigned_by(*code, group);
            if (number && assigned) {
                return read_with_code({*number, *code}, assigned);
            }
        }
    }
    return read_without_code(group, books);
}

}  // namespace

std::string TagSighting::how() const {
    std::string fiducials =
        fiducials_seen == 0 ? ""
                            : fmt::format("{} fiducial{}", fiducials_seen, fiducials_seen == 1 ? "" : "s");
    if (!by_qr) {
        return fiducials;
    }
    return fiducials.empty() ? "QR code" : "QR code and " + fiducials;
}

TagReading read_tags(const cv::Mat& grey, const std::vector<fiducial::Fiducial>& fiducials,
                     const std::vector<QrCode>& codes, const BookCode& here) {
    TagReading reading;
    std::vector<TagCode> tag_codes;
    std::vector<BookCode> books{here};
    for (const auto& code : codes) {
        if (const auto number = TagNumber::from_exact(code.text)) {
            tag_codes.push_back({*number, code});
            if (std::find(books.begin(), books.end(), number->book()) == books.end()) {
                books.push_back(number->book());
            }
        } else {
            reading.other_codes.push_back(code);
        }
    }
    std::vector<Group> groups = group_fiducials(fiducials);
    for (const auto& code : tag_codes) {
        auto group = take_group_of(code.code, groups);
        if (group) {
            take_lone_fiducials(*group, code.code, groups);
        }
        reading.tags.push_back(read_with_code(code, group));
    }
    for (const auto& group : groups) {
        const TagSighting sighting = look_again(grey, group, books);
        if (sighting.number || sighting.fiducials_seen > 1 || could_be_a_face(sighting)) {
            reading.tags.push_back(sighting);
        }
    }
    return reading;
}

}  // namespace stripbook::tag
