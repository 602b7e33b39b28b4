// The simple rule that links used to follow: a photo belongs to the part of the last tag shot of its camera,
// as long as each photo comes within the link time after the one before it.
#include "bench/simple_rule.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "link/capture_order.h"
#include "link/video_place.h"

namespace stripbook::bench {

namespace {

using book::PhotoNumber;
using book::Sighting;
using book::SightingKind;
using link::Assignment;
using link::PhotoSightings;
using link::Rules;
using number::TagNumber;

// Ranks, not probabilities: how often each is right has not been measured on real days yet.
constexpr double by_tag = 0.99;
constexpr double by_following = 0.9;

template <typename T>
bool holds(const std::vector<T>& list, const T& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

void add_once(std::vector<TagNumber>& list, const TagNumber& tag) {
    if (!holds(list, tag)) {
        list.push_back(tag);
    }
}

// What the tags in one photo say.
struct TagsInPhoto {
    struct Read {
        TagNumber tag;
        std::string how;
        bool by_qr = false;
    };
    std::vector<Read> read;           // confirmed tags of this book, each number once
    std::vector<std::string> others;  // confirmed tags of other books
    std::vector<std::string> doubts;  // why another tag in view is not confirmed
    std::vector<TagNumber> suggestions;
};

TagsInPhoto tags_in(const PhotoSightings& p, const number::BookCode& here, const Rules& rules) {
    TagsInPhoto tags;
    for (const Sighting& s : p.sightings) {
        if (s.kind != SightingKind::tag) {
            continue;
        }
        const auto tag = s.confirmed ? TagNumber::from_exact(s.text) : std::nullopt;
        if (tag && tag->book() != here) {
            tags.others.push_back(tag->text());
        } else if (tag && !s.by_qr && !rules.known_to_fiducials.empty() &&
                   !rules.known_to_fiducials.contains(*tag)) {
            tags.doubts.push_back(
                fmt::format("{} was read from fiducials alone and is not in the book", tag->text()));
            add_once(tags.suggestions, *tag);
        } else if (tag) {
            const auto same = [&](const TagsInPhoto::Read& r) { return r.tag == *tag; };
            if (std::none_of(tags.read.begin(), tags.read.end(), same)) {
                tags.read.push_back({*tag, s.how, s.by_qr});
            }
        } else {
            tags.doubts.push_back(s.doubt);
            for (const auto& text : s.suggestions) {
                const auto suggestion = TagNumber::from_exact(text);
                if (suggestion && suggestion->book() == here) {
                    add_once(tags.suggestions, *suggestion);
                }
            }
        }
    }
    return tags;
}

// "a tag that ...": what keeps a photo from being understood as a whole.
std::string what_else(const TagsInPhoto& tags) {
    return tags.others.empty() ? "could not be read for sure" : "is of another book";
}

std::string details(const TagsInPhoto& tags) {
    return tags.others.empty() ? fmt::format("could not be read for sure: {}", tags.doubts.front())
                               : fmt::format("is of another book: {}", fmt::join(tags.others, ", "));
}

// The run that untagged photos of one camera may join.
struct Run {
    std::vector<TagNumber> tags;
    PhotoNumber tag_shot;
    std::string why_ended;  // when `tags` is empty
    double last_seconds = 0;
    bool by_person = false;
};

bool is_video(const book::Photo& photo) {
    return photo.original.kind == book::FileKind::video;
}

// Walks one camera's photos in capture order.
class CameraWalk {
  public:
    /// `at_start`: why an untagged photo that comes first belongs to nothing.
    CameraWalk(const number::BookCode& here, const Rules& rules, Assignment& out,
               const std::string& at_start = "no tag shot came before it")
        : here_(here), rules_(rules), out_(out) {
        end_run(at_start);
    }

    void take(const PhotoSightings& p) {
        const TagsInPhoto tags = tags_in(p, here_, rules_);
        out_.other_book_tags += static_cast<int>(tags.others.size());
        if (!tags.read.empty()) {
            take_tag_shot(p, tags);
        } else if (!p.linked_by_person.empty()) {
            start_run(p.photo, p.linked_by_person, true);
        } else if (is_video(p.photo) && p.photo.read_state == book::ReadState::not_yet) {
            leave(p.photo, "it is a video that was not looked at yet: run stripbook read --again", {});
        } else if (p.photo.read_state != book::ReadState::read) {
            end_run(fmt::format("{} before it does not decode and may be a tag shot", p.photo.number.text()));
            leave(p.photo, p.photo.read_note.empty() ? "it does not decode" : p.photo.read_note, {});
        } else if (!tags.others.empty() || !tags.doubts.empty()) {
            end_run(fmt::format("{} before it shows a tag that {}", p.photo.number.text(), what_else(tags)));
            leave(p.photo, "it shows a tag that " + details(tags), tags.suggestions);
        } else {
            take_untagged(p);
        }
    }

  private:
    void start_run(const book::Photo& photo, const std::vector<TagNumber>& tags, bool by_person) {
        run_ = Run{tags, photo.number, {}, photo.camera_time.seconds, by_person};
    }
    void end_run(const std::string& why) { run_ = Run{{}, {}, why, 0, false}; }

    void leave(const book::Photo& photo, const std::string& why, const std::vector<TagNumber>& suggestions) {
        out_.unsettled.push_back({photo.number, why, suggestions, {}});
    }

    [[nodiscard]] bool is_new(const TagNumber& tag) const {
        return !rules_.known.contains(tag) && !holds(out_.new_tags, tag);
    }

    [[nodiscard]] std::vector<TagNumber> never_seen(const TagsInPhoto& tags) const {
        std::vector<TagNumber> fresh;
        for (const auto& read : tags.read) {
            if (is_new(read.tag)) {
                fresh.push_back(read.tag);
            }
        }
        return fresh;
    }

    // Links the photo to every part whose tag was read in it and was not refused; those parts, and a
    // person's.
    std::vector<TagNumber> link_tags(const PhotoSightings& p, const TagsInPhoto& tags) {
        std::vector<TagNumber> linked = p.linked_by_person;
        for (const auto& read : tags.read) {
            if (holds(p.refused_by_person, read.tag) || holds(p.linked_by_person, read.tag)) {
                continue;
            }
            if (is_new(read.tag)) {
                out_.new_tags.push_back(read.tag);
                out_.seen_first_in.push_back(p.photo.number);
            }
            out_.links.push_back(
                {p.photo.number, read.tag, "its tag is in the picture: " + read.how, by_tag, false});
            linked.push_back(read.tag);
        }
        return linked;
    }

    void take_tag_shot(const PhotoSightings& p, const TagsInPhoto& tags) {
        const std::string name = p.photo.number.text();
        const std::vector<TagNumber> fresh = never_seen(tags);
        if (fresh.size() > rules_.most_new_in_one_photo && p.linked_by_person.empty()) {
            end_run(fmt::format("{} before it shows {} numbers never seen before", name, fresh.size()));
            leave(p.photo,
                  fmt::format("it shows {} numbers never seen before: a sheet of new tags?", fresh.size()),
                  fresh);
            return;
        }
        const std::vector<TagNumber> linked = link_tags(p, tags);
        if (!p.linked_by_person.empty()) {
            start_run(p.photo, linked, true);
        } else if (!tags.doubts.empty() || !tags.others.empty()) {
            end_run(fmt::format("{} before it shows another tag besides, that {}", name, what_else(tags)));
            leave(p.photo, "besides, it shows a tag that " + details(tags), tags.suggestions);
        } else if (linked.empty()) {
            end_run(
                fmt::format("a person said that {} before it does not belong to the part on its tag", name));
        } else {
            start_run(p.photo, linked, false);
        }
    }

    void take_untagged(const PhotoSightings& p) {
        if (run_.tags.empty()) {
            leave(p.photo, "no tag in it, and " + run_.why_ended, {});
            return;
        }
        const double gap_s = p.photo.camera_time.seconds - run_.last_seconds;
        if (gap_s > rules_.link_time_s) {
            leave(
                p.photo,
                fmt::format("no tag in it, and it was taken {:.0f} min {:02.0f} s after the photo before it",
                            std::floor(gap_s / 60), std::floor(std::fmod(gap_s, 60))),
                run_.tags);
            end_run(fmt::format("{} before it needs a person too", p.photo.number.text()));
            return;
        }
        if (run_.tags.size() > 1) {
            leave(p.photo,
                  fmt::format("no tag in it, and {} before it shows {} parts", run_.tag_shot.text(),
                              run_.tags.size()),
                  run_.tags);
            run_.last_seconds = p.photo.camera_time.seconds;
            return;
        }
        const TagNumber& tag = run_.tags.front();
        if (holds(p.refused_by_person, tag)) {
            leave(p.photo, fmt::format("no tag in it, and a person said it is not {}", tag.text()), {});
            end_run(
                fmt::format("a person said that {} before it is not {}", p.photo.number.text(), tag.text()));
            return;
        }
        out_.links.push_back(
            {p.photo.number, tag,
             fmt::format("it follows {} {}, {:.0f} s after the photo before it{}",
                         run_.by_person ? "the photo a person linked," : "the tag shot", run_.tag_shot.text(),
                         gap_s, is_video(p.photo) ? " by its file time (a video)" : ""),
             by_following, false});
        run_.last_seconds = p.photo.camera_time.seconds;
    }

    const number::BookCode& here_;
    const Rules& rules_;
    Assignment& out_;
    Run run_;
};

}  // namespace

Assignment simple_rule(const std::vector<PhotoSightings>& photos, const number::BookCode& here,
                       const Rules& rules) {
    std::vector<PhotoSightings> placed = photos;
    std::vector<book::Photo*> to_place;
    std::transform(placed.begin(), placed.end(), std::back_inserter(to_place),
                   [](PhotoSightings& p) { return &p.photo; });
    const auto without_place = link::place_videos(to_place);
    std::map<book::CameraId, std::vector<book::Photo>> by_camera;
    std::map<PhotoNumber, const PhotoSightings*> by_number;
    Assignment out;
    for (const auto& p : placed) {
        if (const auto why = without_place.find(p.photo.number); why != without_place.end()) {
            CameraWalk(here, rules, out, why->second).take(p);
        } else {
            by_camera[p.photo.camera].push_back(p.photo);
            by_number[p.photo.number] = &p;
        }
    }
    for (auto& [camera, taken] : by_camera) {
        CameraWalk walk(here, rules, out);
        for (const auto& photo : link::in_capture_order(std::move(taken))) {
            walk.take(*by_number.at(photo.number));
        }
    }
    const auto by_photo = [](const auto& a, const auto& b) { return a.photo < b.photo; };
    std::stable_sort(out.links.begin(), out.links.end(), by_photo);
    std::stable_sort(out.unsettled.begin(), out.unsettled.end(), by_photo);
    return out;
}

}  // namespace stripbook::bench
