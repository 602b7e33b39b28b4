#include "link/observed.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace stripbook::link {

namespace {

using book::Sighting;
using number::TagNumber;

template <typename T>
bool holds(const std::vector<T>& list, const T& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

double area_px(const std::array<book::PointPx, 4>& c) {
    double twice = 0;
    for (std::size_t i = 0; i < c.size(); ++i) {
        const auto& a = c[i];
        const auto& b = c[(i + 1) % c.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return std::abs(twice) / 2;
}

// Its middle lies within this share of the picture's shorter side from an edge.
constexpr double edge_share = 0.16;

TagPlace place_in_picture(const Sighting& s, const book::Photo& photo) {
    const double area = area_px(s.corners_px);
    const double picture = static_cast<double>(photo.width_px) * photo.height_px;
    if (area <= 0 || picture <= 0) {
        return {};
    }
    TagPlace seen;
    seen.log_size = std::log(area / picture) / 2;
    book::PointPx middle;
    for (const auto& corner : s.corners_px) {
        middle.x += corner.x / 4;
        middle.y += corner.y / 4;
    }
    const double to_edge =
        std::min({middle.x, middle.y, photo.width_px - middle.x, photo.height_px - middle.y});
    seen.at_edge = to_edge < edge_share * std::min(photo.width_px, photo.height_px);
    return seen;
}

bool is_known(const TagNumber& tag, const Sighting& s, const Rules& rules) {
    return s.by_qr || rules.known_to_fiducials.empty() || rules.known_to_fiducials.contains(tag);
}

void add_suggestion(Observed& o, const TagNumber& tag) {
    if (!holds(o.suggestions, tag)) {
        o.suggestions.push_back(tag);
    }
}

void take_confirmed(Observed& o, const TagNumber& tag, const Sighting& s) {
    if (holds(o.from->refused_by_person, tag)) {
        o.refused_tags.push_back(tag);
        return;
    }
    // Other makers' tags have sizes of their own: nothing speaks for a neighbour's.
    SeenTag seen{s.other_maker ? TagPlace{} : place_in_picture(s, o.from->photo), tag, s.how, s.by_qr};
    const auto known =
        std::find_if(o.tags.begin(), o.tags.end(), [&](const SeenTag& t) { return t.tag == tag; });
    if (known == o.tags.end()) {
        o.tags.push_back(std::move(seen));
    } else if (seen.log_size.value_or(-1e9) > known->log_size.value_or(-1e9)) {
        // Seen twice (a fold-over tag): the larger one counts.
        *known = std::move(seen);
    }
}

void take_doubt(Observed& o, const std::string& doubt, const Sighting& s) {
    const TagPlace place = place_in_picture(s, o.from->photo);
    if (o.doubts.empty() || !place.log_size || (o.doubt.log_size && *o.doubt.log_size < *place.log_size)) {
        o.doubt = place;
    }
    o.doubts.push_back(doubt);
}

void take(Observed& o, const Sighting& s, const number::BookCode& here, const Rules& rules) {
    const auto tag = s.confirmed ? TagNumber::from_exact(s.text) : std::nullopt;
    if (tag && tag->book() != here) {
        o.others.push_back(tag->text());
    } else if (tag && !is_known(*tag, s, rules)) {
        take_doubt(o, fmt::format("{} was read from fiducials alone and is not in the book", tag->text()), s);
        add_suggestion(o, *tag);
    } else if (tag) {
        take_confirmed(o, *tag, s);
    } else {
        take_doubt(o, s.doubt, s);
        for (const auto& text : s.suggestions) {
            const auto suggestion = TagNumber::from_exact(text);
            if (suggestion && suggestion->book() == here) {
                add_suggestion(o, *suggestion);
            }
        }
    }
}

}  // namespace

Observed observe(const PhotoSightings& photo, const number::BookCode& here, const Rules& rules) {
    Observed o;
    o.from = &photo;
    o.seconds = photo.photo.corrected_seconds;
    o.undecoded = photo.photo.read_state != book::ReadState::read;
    for (const Sighting& s : photo.sightings) {
        if (s.kind == book::SightingKind::tag) {
            take(o, s, here, rules);
        }
    }
    return o;
}

void mark_tag_sheets(std::vector<Observed>& photos, const Rules& rules) {
    const auto never_known = [&](const Observed& o, const std::set<TagNumber>& shown) {
        return static_cast<std::size_t>(std::count_if(o.tags.begin(), o.tags.end(), [&](const SeenTag& t) {
            return !rules.known.contains(t.tag) && !shown.contains(t.tag);
        }));
    };
    // Numbers that a photo of few parts shows are no news elsewhere.
    std::set<TagNumber> shown;
    for (const Observed& o : photos) {
        shown.insert(o.from->linked_by_person.begin(), o.from->linked_by_person.end());
        if (never_known(o, {}) <= rules.most_new_in_one_photo) {
            for (const SeenTag& t : o.tags) {
                shown.insert(t.tag);
            }
        }
    }
    for (Observed& o : photos) {
        o.tag_sheet = o.from->linked_by_person.empty() && never_known(o, shown) > rules.most_new_in_one_photo;
    }
}

}  // namespace stripbook::link
