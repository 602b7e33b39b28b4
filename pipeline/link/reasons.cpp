#include "link/reasons.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace stripbook::link {

namespace {

using number::TagNumber;

constexpr double link_times_of_a_pause = 5;
constexpr double worth_naming = 0.05;

std::string span(double seconds) {
    return seconds < 120 ? fmt::format("{:.0f} s", seconds)
                         : fmt::format("{:.0f} min {:02.0f} s", std::floor(seconds / 60),
                                       std::floor(std::fmod(seconds, 60)));
}

bool is_video(const Observed& o) {
    return o.from->photo.original.kind == book::FileKind::video;
}

// Half the size of the middle one of the day's tags; nothing when they have no places.
std::optional<double> small_tag(const CameraDay& day) {
    std::vector<double> sizes;
    for (const Observed& o : day.photos) {
        for (const SeenTag& t : o.tags) {
            if (t.log_size) {
                sizes.push_back(*t.log_size);
            }
        }
    }
    if (sizes.empty()) {
        return std::nullopt;
    }
    const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
    std::nth_element(sizes.begin(), middle, sizes.end());
    return *middle - std::log(2.0);
}

}  // namespace

Anchors::Anchors(const CameraDay& day, const std::vector<Verdict>& verdicts, const Rules& rules)
    : day_(day), verdicts_(verdicts), link_time_s_(rules.link_time_s), small_(small_tag(day)) {
    std::size_t stretch = 0;
    std::size_t run = 0;
    for (std::size_t t = 0; t < day.photos.size(); ++t) {
        const Observed& o = day.photos[t];
        for (const TagNumber& tag : o.from->linked_by_person) {
            places_[tag].push_back(t);
        }
        for (const SeenTag& seen : o.tags) {
            auto& places = places_[seen.tag];
            if (!o.tag_sheet && verdicts[t].chance_of(seen.tag) >= rules.link_from &&
                (places.empty() || places.back() != t)) {
                places.push_back(t);
            }
        }
        if (t > 0) {
            const bool pause = o.seconds - day.photos[t - 1].seconds > link_times_of_a_pause * link_time_s_;
            stretch += pause ? 1 : 0;
            run += verdicts[t].same_run_as_before < 0.5 ? 1 : 0;
        }
        if (may_be_unread_tag_shot(o)) {
            doubts_.push_back(t);
        }
        stretch_.push_back(stretch);
        run_.push_back(run);
    }
}

bool Anchors::may_be_unread_tag_shot(const Observed& o) const {
    if (!o.from->linked_by_person.empty()) {
        return false;
    }
    const bool not_looked_at = is_video(o) && o.from->photo.read_state == book::ReadState::not_yet;
    const bool small_doubt = small_ && o.doubt.log_size && *o.doubt.log_size < *small_;
    return !o.others.empty() || (!o.doubts.empty() && !small_doubt) ||
           (o.undecoded && o.tags.empty() && !not_looked_at);
}

Anchors::Near Anchors::near(std::size_t place, const TagNumber& tag) const {
    Near near;
    const auto places = places_.find(tag);
    if (places == places_.end()) {
        return near;
    }
    const auto it = std::lower_bound(places->second.begin(), places->second.end(), place);
    if (it != places->second.begin()) {
        near.before = *std::prev(it);
    }
    if (it != places->second.end()) {
        near.behind = *it;
    }
    return near;
}

bool Anchors::beyond_a_pause(std::size_t place, const TagNumber& tag) const {
    const auto [before, behind] = near(place, tag);
    if ((before && behind) || (!before && !behind)) {
        return false;
    }
    return stretch_[before ? *before : *behind] != stretch_[place];
}

std::optional<std::size_t> Anchors::behind_a_doubt(std::size_t place, const TagNumber& tag) const {
    const auto [before, behind] = near(place, tag);
    if ((before && behind) || (!before && !behind)) {
        return std::nullopt;
    }
    // The tag shot itself may show a second tag that nobody could read.
    const std::size_t from = before ? *before : place;
    const std::size_t to = before ? place + 1 : *behind + 1;
    const auto is_other = [&](std::size_t doubt) {
        const Observed& o = day_.photos[doubt];
        return !o.others.empty() ||
               std::find(o.suggestions.begin(), o.suggestions.end(), tag) == o.suggestions.end();
    };
    const auto first = std::lower_bound(doubts_.begin(), doubts_.end(), from);
    const auto it = std::find_if(first, std::lower_bound(first, doubts_.end(), to), is_other);
    return it != doubts_.end() && *it < to ? std::optional(*it) : std::nullopt;
}

std::string Anchors::doubt_between(std::size_t doubt) const {
    const Observed& o = day_.photos[doubt];
    const std::string name = o.from->photo.number.text();
    return !o.others.empty() ? fmt::format("no tag in it, and {} near it shows a tag of another book", name)
           : !o.doubts.empty()
               ? fmt::format("no tag in it, and {} near it shows a tag not read for sure", name)
               : fmt::format("no tag in it, and {} near it does not decode and may be a tag shot", name);
}

std::string Anchors::pause_between(std::size_t place, const TagNumber& tag) const {
    const auto [before, behind] = near(place, tag);
    const std::size_t anchor = before ? *before : *behind;
    double longest_s = 0;
    for (std::size_t t = std::min(anchor, place) + 1; t <= std::max(anchor, place); ++t) {
        longest_s = std::max(longest_s, day_.photos[t].seconds - day_.photos[t - 1].seconds);
    }
    return fmt::format("no tag in it, and a pause of {:.0f} min lies between it and {}",
                       std::floor(longest_s / 60), name_of(anchor));
}

std::string Anchors::name_of(std::size_t place) const {
    const PhotoSightings& photo = *day_.photos[place].from;
    return (photo.linked_by_person.empty() ? "the tag shot " : "the photo a person linked, ") +
           photo.photo.number.text();
}

std::string Anchors::follows(std::size_t place, const TagNumber& tag) const {
    const auto [before, behind] = near(place, tag);
    const bool after_tag = before && run_[*before] == run_[place];
    const bool ahead_of_tag = behind && run_[*behind] == run_[place];
    const Observed& o = day_.photos[place];
    const std::string by_file_time = is_video(o) ? " by its file time (a video)" : "";
    if (after_tag && ahead_of_tag) {
        return fmt::format("it lies between {} and {}{}", name_of(*before), name_of(*behind), by_file_time);
    }
    if (after_tag) {
        return fmt::format("it follows {}, {} after the photo before it{}", name_of(*before),
                           span(o.seconds - day_.photos[place - 1].seconds), by_file_time);
    }
    if (ahead_of_tag) {
        return fmt::format("it leads to {}, {} before the photo behind it{}; this camera's tag shots come {}",
                           name_of(*behind), span(day_.photos[place + 1].seconds - o.seconds), by_file_time,
                           habit_words(verdicts_[place].habit));
    }
    return before || behind
               ? fmt::format("the camera came back to it: {}", name_of(before ? *before : *behind))
               : "another camera was at it in the same minutes";
}

std::string Anchors::needs_person(std::size_t place) const {
    const double gap_s = place == 0 ? 0 : day_.photos[place].seconds - day_.photos[place - 1].seconds;
    if (gap_s > link_time_s_) {
        return fmt::format("no tag in it, and it was taken {:.0f} min {:02.0f} s after the photo before it",
                           std::floor(gap_s / 60), std::floor(std::fmod(gap_s, 60)));
    }
    std::vector<std::string> parts;
    for (const auto& [tag, chance] : verdicts_[place].chances) {
        if (chance >= worth_naming) {
            parts.push_back(fmt::format("{} ({:.0f} %)", tag.text(), 100 * chance));
        }
    }
    if (parts.empty()) {
        return places_.empty() || std::all_of(places_.begin(), places_.end(),
                                              [&](const auto& p) {
                                                  return p.second.empty() || p.second.front() > place;
                                              })
                   ? "no tag in it, and no tag shot came before it"
                   : "no tag in it, and it does not go with the tag shots around it";
    }
    return fmt::format("no tag in it, and it may be of {} or of a part whose tag was not shot",
                       fmt::join(parts, ", "));
}

}  // namespace stripbook::link
