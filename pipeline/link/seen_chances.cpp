#include "link/seen_chances.h"

#include <algorithm>
#include <cmath>

namespace stripbook::link {

namespace {

using number::TagNumber;

// Judgement, no source; the day corrects what learned.h holds.
constexpr double tag_is_read = 0.93;      // of a tag that a person meant to show
constexpr double tag_is_doubtful = 0.05;  // seen, but not confirmed
constexpr double tag_is_overlooked = 0.02;
constexpr double doubt_names_it = 0.9;  // a doubtful tag's suggestions hold the right number
constexpr double by_the_way = 0.03;     // the part's own tag in a photo that is not of it
constexpr double second_part = 0.01;    // two parts in one photo, each with its tag
constexpr double second_alone = 0.001;  // and only the tag of the second part is seen
constexpr double misread_qr = 1e-5;
constexpr double misread_fiducials = 1e-3;
constexpr double stray_doubt = 0.01;  // a doubtful tag in a photo that is not of a tag
constexpr double stray_other_book = 0.005;

// Of a part whose tag was never read.
constexpr double unread_doubtful = 0.6;
constexpr double unread_other_book = 0.6;
constexpr double unread_overlooked = 0.3;

// Where a tag stands in the picture is not known: nothing speaks for a neighbour's.
constexpr double stray_without_place = 0.02;

double look(const TagPlace& tag, const TagLook& as) {
    return as.log_size.density(*tag.log_size) * (tag.at_edge ? double{as.at_edge} : 1 - as.at_edge);
}

double own_look(const TagPlace& tag, const Learned& learned) {
    return tag.log_size ? look(tag, learned.own_tag) : 1;
}

double stray_look(const TagPlace& tag, const Learned& learned) {
    return tag.log_size ? look(tag, learned.stray_tag) : stray_without_place;
}

bool holds(const std::vector<TagNumber>& list, const TagNumber& tag) {
    return std::find(list.begin(), list.end(), tag) != list.end();
}

// Of the tags in view that are not the part's.
double out_of_place(const Observed& seen, const TagNumber* tag, const Learned& learned, double same_name) {
    const double second = seen.tags.size() > 1 ? second_part : second_alone;
    double chance = 1;
    for (const SeenTag& t : seen.tags) {
        if (tag == nullptr || t.tag != *tag) {
            chance *=
                same_name * (learned.stray_rate * stray_look(t, learned) + second * own_look(t, learned) +
                             (t.by_qr ? misread_qr : misread_fiducials));
        }
    }
    return chance;
}

// Of the numbers that a doubtful tag may be, the best first: each is half as likely as the one before it.
double chance_of_suggestion(const Observed& seen, const TagNumber& tag, double same_name) {
    const auto& names = seen.suggestions;
    const auto place = std::find(names.begin(), names.end(), tag) - names.begin();
    if (place == static_cast<std::ptrdiff_t>(names.size())) {
        return (1 - doubt_names_it) * same_name;
    }
    const double all = 1 - std::exp2(-static_cast<double>(names.size()));
    return doubt_names_it * std::exp2(-static_cast<double>(place + 1)) / all;
}

double doubt_in_tag_shot(const Observed& seen, const TagNumber* tag, double same_name) {
    if (tag == nullptr) {
        return unread_doubtful * (seen.suggestions.empty() ? 1 : same_name);
    }
    return tag_is_doubtful * (seen.suggestions.empty() ? 1 : chance_of_suggestion(seen, *tag, same_name));
}

}  // namespace

SeenChances chances_of_seen(const Observed& seen, const TagNumber* tag, const Learned& learned,
                            double same_name) {
    const PhotoSightings& photo = *seen.from;
    const auto& linked = photo.linked_by_person;
    if (!linked.empty() && (tag == nullptr || !holds(linked, *tag))) {
        return {0, 0};
    }
    if (tag != nullptr && holds(photo.refused_by_person, *tag)) {
        return {0, 0};
    }
    if (seen.undecoded && seen.tags.empty()) {
        return {1, 1};
    }
    if (seen.tag_sheet) {
        return tag == nullptr ? SeenChances{1, 1} : SeenChances{0, 0};
    }
    SeenChances chances{1, 1};
    const auto own = std::find_if(seen.tags.begin(), seen.tags.end(),
                                  [&](const SeenTag& t) { return tag != nullptr && t.tag == *tag; });
    if (own != seen.tags.end()) {
        chances.in_tag_shot = tag_is_read * own_look(*own, learned);
        chances.elsewhere = by_the_way * stray_look(*own, learned);
    } else if (!linked.empty()) {
        // A person's word says nothing about what the photo shows.
        chances = {1, 1};
    } else if (!seen.doubts.empty()) {
        const double as_own = seen.doubt.log_size ? own_look(seen.doubt, learned) : 1;
        const double as_stray = seen.doubt.log_size ? stray_look(seen.doubt, learned) : 1;
        chances.in_tag_shot = as_own * doubt_in_tag_shot(seen, tag, same_name);
        chances.elsewhere = as_stray * stray_doubt * (seen.suggestions.empty() ? 1 : same_name);
    } else if (!seen.others.empty()) {
        chances.in_tag_shot = tag == nullptr ? unread_other_book : tag_is_overlooked * stray_other_book;
        chances.elsewhere = stray_other_book;
    } else {
        chances.in_tag_shot = tag == nullptr ? unread_overlooked : tag_is_overlooked;
    }
    const double others = linked.empty() ? out_of_place(seen, tag, learned, same_name) : 1;
    return {chances.in_tag_shot * others, chances.elsewhere * others};
}

double chance_of_second_part(const Observed& seen, const SeenTag& tag, const Learned& learned) {
    if (seen.tags.size() < 2) {
        const double second = second_alone * own_look(tag, learned);
        return second / (second + learned.stray_rate * stray_look(tag, learned));
    }
    if (!tag.log_size) {
        // Nothing speaks for a neighbour's tag.
        return 1;
    }
    double largest = -1e9;
    for (const SeenTag& t : seen.tags) {
        largest = std::max(largest, t.log_size.value_or(-1e9));
    }
    // Two parts laid side by side have tags of about one size; a neighbour's tag in the background is small
    // beside the part's own.
    const double less = *tag.log_size - largest;
    const auto bell = [&](double mean, double sigma) {
        const double z = (less - mean) / sigma;
        return std::exp(-0.5 * z * z) / sigma;
    };
    const double second =
        bell(0, 0.25) * (tag.at_edge ? learned.own_tag.at_edge : 1 - learned.own_tag.at_edge);
    const double stray =
        bell(-1, 0.5) * (tag.at_edge ? learned.stray_tag.at_edge : 1 - learned.stray_tag.at_edge);
    return second / (second + stray);
}

}  // namespace stripbook::link
