#include "link/assign.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "link/camera_days.h"
#include "link/company.h"
#include "link/reasons.h"

namespace stripbook::link {

namespace {

using book::PhotoNumber;
using number::TagNumber;

constexpr std::size_t most_suggestions = 3;
constexpr double worth_suggesting = 0.02;

template <typename T>
bool holds(const std::vector<T>& list, const T& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

// Numbers that may be linked: of part records, and read for sure in any photo.
std::set<TagNumber> linkable(const CameraDays& days, const Rules& rules) {
    std::set<TagNumber> tags = rules.known;
    for (const CameraDay& day : days.days) {
        for (const Observed& o : day.photos) {
            tags.insert(o.from->linked_by_person.begin(), o.from->linked_by_person.end());
            for (const SeenTag& t : o.tags) {
                if (!o.tag_sheet) {
                    tags.insert(t.tag);
                }
            }
        }
    }
    return tags;
}

std::vector<std::vector<Verdict>> judge_all(const CameraDays& days, const Rules& rules) {
    const ModelChoices choices{rules.link_time_s};
    std::vector<std::vector<Verdict>> alone;
    std::set<book::CameraId> cameras(days.camera_of_day.begin(), days.camera_of_day.end());
    for (const CameraDay& day : days.days) {
        alone.push_back(judge(day, {}, choices));
    }
    if (cameras.size() < 2) {
        return alone;
    }
    const auto companies = companies_of(days, alone);
    std::vector<std::vector<Verdict>> together;
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        together.push_back(companies[d].runs.empty() ? alone[d] : judge(days.days[d], companies[d], choices));
    }
    return together;
}

// Decides one camera's day from what the model says of it.
class Decisions {
  public:
    Decisions(const CameraDay& day, const std::vector<Verdict>& verdicts, const Rules& rules,
              const std::set<TagNumber>& linkable, const std::map<PhotoNumber, std::string>& without_place,
              Assignment& out)
        : day_(day),
          verdicts_(verdicts),
          rules_(rules),
          linkable_(linkable),
          without_place_(without_place),
          anchors_(day, verdicts, rules),
          out_(out) {}

    void decide(std::size_t place) {
        const Observed& o = day_.photos[place];
        const book::Photo& photo = o.from->photo;
        out_.other_book_tags += static_cast<int>(o.others.size());
        const bool said = !o.from->linked_by_person.empty();
        if (o.tag_sheet) {
            ask(place,
                fmt::format("it shows {} numbers never seen before: a sheet of new tags?",
                            never_known(o).size()),
                never_known(o));
        } else if (!o.tags.empty()) {
            decide_tags(place);
        } else if (said) {
            return;
        } else if (photo.original.kind == book::FileKind::video &&
                   photo.read_state == book::ReadState::not_yet) {
            ask(place, "it is a video that was not looked at yet: run stripbook read --again");
        } else if (o.undecoded) {
            ask(place, photo.read_note.empty() ? "it does not decode" : photo.read_note);
        } else if (!o.others.empty() || !o.doubts.empty()) {
            decide_doubtful(place);
        } else if (o.refused_tags.empty()) {
            decide_untagged(place);
        }
    }

  private:
    [[nodiscard]] std::vector<TagNumber> never_known(const Observed& o) const {
        std::vector<TagNumber> tags;
        for (const SeenTag& t : o.tags) {
            if (!rules_.known.contains(t.tag)) {
                tags.push_back(t.tag);
            }
        }
        return tags;
    }

    void link(std::size_t place, const TagNumber& tag, const std::string& why, double sure) {
        out_.links.push_back({day_.photos[place].from->photo.number, tag, why, sure, false});
    }

    // The likeliest parts; those that the picture itself names without being sure first.
    void ask(std::size_t place, const std::string& why, const std::vector<TagNumber>& named = {}) {
        const Observed& o = day_.photos[place];
        book::Unsettled open{o.from->photo.number, why, {}, {}};
        const auto add = [&](const TagNumber& tag, double chance) {
            const auto& said = o.from->linked_by_person;
            if (!holds(open.suggestions, tag) && !holds(o.from->refused_by_person, tag) &&
                !holds(said, tag)) {
                open.suggestions.push_back(tag);
                open.chances.push_back(chance);
            }
        };
        for (const TagNumber& tag : named) {
            add(tag, verdicts_[place].chance_of(tag));
        }
        for (const auto& [tag, chance] : verdicts_[place].chances) {
            if (chance >= worth_suggesting && open.suggestions.size() < most_suggestions) {
                add(tag, chance);
            }
        }
        out_.unsettled.push_back(std::move(open));
    }

    [[nodiscard]] std::optional<std::pair<TagNumber, double>> sure_part(std::size_t place) const {
        const auto& chances = verdicts_[place].chances;
        const bool sure = !chances.empty() && chances.front().second >= rules_.link_from &&
                          linkable_.contains(chances.front().first) &&
                          !anchors_.beyond_a_pause(place, chances.front().first) &&
                          !anchors_.behind_a_doubt(place, chances.front().first);
        return sure ? std::optional(chances.front()) : std::nullopt;
    }

    void decide_tags(std::size_t place) {
        const Observed& o = day_.photos[place];
        std::vector<TagNumber> strays;
        for (const SeenTag& t : o.tags) {
            if (holds(o.from->linked_by_person, t.tag)) {
                continue;
            }
            const double chance = verdicts_[place].chance_of(t.tag);
            if (chance >= rules_.link_from || (!o.from->linked_by_person.empty() && !t.log_size)) {
                link(place, t.tag, "its tag is in the picture: " + t.how, chance);
            } else {
                strays.push_back(t.tag);
            }
        }
        if (!o.from->linked_by_person.empty()) {
            return;
        }
        if (!strays.empty()) {
            const auto own = sure_part(place);
            if (own && !holds(o.from->refused_by_person, own->first) && !shows(o, own->first)) {
                link(place, own->first, anchors_.follows(place, own->first), own->second);
                if (!any_likely(place, strays)) {
                    return;
                }
            }
            ask(place,
                fmt::format("it shows the tag of {}, which may be a neighbour's", strays.front().text()),
                strays);
        } else if (!o.doubts.empty() || !o.others.empty()) {
            ask(place, "besides, it shows a tag that " + details(o), o.suggestions);
        }
    }

    // As sure as a link must be that none of them is the photo's.
    [[nodiscard]] bool any_likely(std::size_t place, const std::vector<TagNumber>& tags) const {
        return std::any_of(tags.begin(), tags.end(), [&](const TagNumber& tag) {
            return verdicts_[place].chance_of(tag) > 1 - rules_.link_from;
        });
    }

    static bool shows(const Observed& o, const TagNumber& tag) {
        return std::any_of(o.tags.begin(), o.tags.end(), [&](const SeenTag& t) { return t.tag == tag; });
    }

    static std::string details(const Observed& o) {
        return o.others.empty() ? fmt::format("could not be read for sure: {}", o.doubts.front())
                                : fmt::format("is of another book: {}", fmt::join(o.others, ", "));
    }

    // A tag not read for sure, or of another book.
    void decide_doubtful(std::size_t place) {
        const Observed& o = day_.photos[place];
        const auto own = o.others.empty() ? sure_part(place) : std::nullopt;
        if (own && (holds(o.suggestions, own->first) || !any_likely(place, o.suggestions))) {
            link(place, own->first,
                 "a tag in it could not be read for sure, and " + anchors_.follows(place, own->first),
                 own->second);
            return;
        }
        ask(place, "it shows a tag that " + details(o), o.suggestions);
    }

    void decide_untagged(std::size_t place) {
        const auto without = without_place_.find(day_.photos[place].from->photo.number);
        if (without != without_place_.end()) {
            ask(place, fmt::format("no tag in it, and {}", without->second));
        } else if (const auto own = sure_part(place)) {
            link(place, own->first, anchors_.follows(place, own->first), own->second);
        } else {
            ask(place, why_not_linked(place));
        }
    }

    [[nodiscard]] std::string why_not_linked(std::size_t place) const {
        const auto& chances = verdicts_[place].chances;
        if (chances.empty() || chances.front().second < rules_.link_from) {
            return anchors_.needs_person(place);
        }
        const TagNumber& likeliest = chances.front().first;
        if (const auto doubt = anchors_.behind_a_doubt(place, likeliest)) {
            return anchors_.doubt_between(*doubt);
        }
        return anchors_.beyond_a_pause(place, likeliest) ? anchors_.pause_between(place, likeliest)
                                                         : anchors_.needs_person(place);
    }

    const CameraDay& day_;
    const std::vector<Verdict>& verdicts_;
    const Rules& rules_;
    const std::set<TagNumber>& linkable_;
    const std::map<PhotoNumber, std::string>& without_place_;
    Anchors anchors_;
    Assignment& out_;
};

// Part records for linked numbers that have none, by the photo that showed them first.
void note_new_tags(Assignment& out, const Rules& rules) {
    std::set<TagNumber> done = rules.known;
    for (const auto& link : out.links) {
        if (done.insert(link.tag).second) {
            out.new_tags.push_back(link.tag);
            out.seen_first_in.push_back(link.photo);
        }
    }
}

}  // namespace

Assignment assign(const std::vector<PhotoSightings>& photos, const number::BookCode& here,
                  const Rules& rules) {
    const CameraDays days = camera_days(photos, here, rules);
    const auto verdicts = judge_all(days, rules);
    const auto may_be_linked = linkable(days, rules);
    Assignment out;
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        Decisions decisions(days.days[d], verdicts[d], rules, may_be_linked, days.without_place, out);
        for (std::size_t place = 0; place < days.days[d].photos.size(); ++place) {
            decisions.decide(place);
        }
    }
    const auto by_photo = [](const auto& a, const auto& b) { return a.photo < b.photo; };
    std::stable_sort(out.links.begin(), out.links.end(), by_photo);
    std::stable_sort(out.unsettled.begin(), out.unsettled.end(), by_photo);
    note_new_tags(out, rules);
    return out;
}

}  // namespace stripbook::link
