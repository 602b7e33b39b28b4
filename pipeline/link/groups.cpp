#include "link/groups.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

#include "link/capture_order.h"
#include "link/video_place.h"

namespace stripbook::link {

namespace {

using book::FoundGroup;
using book::Photo;
using book::PhotoNumber;
using book::Suggested;
using book::Unsettled;
using number::TagNumber;

using Questions = std::map<PhotoNumber, const Unsettled*>;

std::optional<TagNumber> best_of(const Unsettled& question) {
    return question.suggestions.empty() ? std::nullopt : std::optional(question.suggestions.front());
}

// Walks one camera's photos in capture order and parts those that wait, and that no group holds, into runs.
class RunWalk {
  public:
    RunWalk(const Questions& questions, const GroupRules& rules) : questions_(questions), rules_(rules) {}

    void take(const Photo& photo) {
        const auto question = questions_.find(photo.number);
        if (question == questions_.end() || rules_.held.count(photo.number) != 0) {
            end_run();
            return;
        }
        const bool can_be_seen = photo.read_state == book::ReadState::read;
        if (!can_be_seen || !joins(photo, *question->second)) {
            end_run();
        }
        run_.push_back(photo.number);
        last_s_ = photo.camera_time.seconds;
        best_ = best_ ? best_ : best_of(*question->second);
        if (!can_be_seen) {
            end_run();
        }
    }

    std::vector<std::vector<PhotoNumber>> finished() {
        end_run();
        return std::move(runs_);
    }

  private:
    [[nodiscard]] bool joins(const Photo& photo, const Unsettled& question) const {
        const auto own = best_of(question);
        return !run_.empty() && rules_.cut_before.count(photo.number) == 0 &&
               rules_.strange_tag.count(photo.number) == 0 &&
               std::abs(photo.camera_time.seconds - last_s_) <= rules_.link_time_s &&  // a clock put back
               (!own || own == best_);
    }

    void end_run() {
        if (!run_.empty()) {
            runs_.push_back(std::move(run_));
        }
        run_.clear();
        best_.reset();
    }

    const Questions& questions_;
    const GroupRules& rules_;
    std::vector<std::vector<PhotoNumber>> runs_;
    std::vector<PhotoNumber> run_;
    std::optional<TagNumber> best_;
    double last_s_ = 0;
};

// How much the photos of a group speak for one part.
struct Support {
    double sum = 0;
    std::optional<double> chances;  // their sum, where they were worked out
};

std::vector<Suggested> suggestions_of(const std::vector<PhotoNumber>& photos, const Questions& questions,
                                      std::size_t most) {
    std::map<TagNumber, Support> supports;
    int speaking = 0;
    for (const auto& photo : photos) {
        const Unsettled& question = *questions.at(photo);
        speaking += question.suggestions.empty() ? 0 : 1;
        for (std::size_t i = 0; i < question.suggestions.size(); ++i) {
            auto& support = supports[question.suggestions[i]];
            if (i < question.chances.size()) {
                support.chances = support.chances.value_or(0) + question.chances[i];
                support.sum += question.chances[i];
            } else {
                support.sum += 1 / static_cast<double>(i + 1);
            }
        }
    }
    std::vector<std::pair<TagNumber, Support>> ordered(supports.begin(), supports.end());
    std::stable_sort(ordered.begin(), ordered.end(),
                     [](const auto& a, const auto& b) { return a.second.sum > b.second.sum; });
    std::vector<Suggested> suggestions;
    for (const auto& [tag, support] : ordered) {
        if (suggestions.size() == most) {
            break;
        }
        const auto mean = support.chances ? std::optional(*support.chances / speaking) : std::nullopt;
        suggestions.push_back({tag, mean});
    }
    return suggestions;
}

FoundGroup group_of(const std::optional<book::GroupNumber>& number, std::vector<PhotoNumber> photos,
                    const Questions& questions, const GroupRules& rules) {
    FoundGroup group;
    group.number = number;
    group.why = questions.at(photos.front())->why;
    group.suggestions = suggestions_of(photos, questions, rules.most_suggestions);
    group.photos = std::move(photos);
    return group;
}

using Held = std::map<book::GroupNumber, std::vector<PhotoNumber>>;

// Adds the photos that wait and go back to a group.
void add_held(Held& held, const std::vector<Photo>& taken, const Questions& questions,
              const GroupRules& rules) {
    for (const auto& photo : taken) {
        const auto group = rules.held.find(photo.number);
        if (group != rules.held.end() && questions.count(photo.number) != 0) {
            held[group->second].push_back(photo.number);
        }
    }
}

// Each camera's photos and videos in capture order; a video without a place alone.
std::vector<std::vector<Photo>> strands_of(std::vector<Photo> photos) {
    std::vector<Photo*> to_place;
    std::transform(photos.begin(), photos.end(), std::back_inserter(to_place), [](Photo& p) { return &p; });
    const auto without_place = place_videos(to_place);
    std::map<book::CameraId, std::vector<Photo>> by_camera;
    std::vector<std::vector<Photo>> strands;
    for (auto& photo : photos) {
        if (without_place.count(photo.number) != 0) {
            strands.push_back({std::move(photo)});
        } else {
            by_camera[photo.camera].push_back(std::move(photo));
        }
    }
    for (auto& [camera, own] : by_camera) {
        strands.push_back(in_capture_order(std::move(own)));
    }
    return strands;
}

PhotoNumber first_number(const std::vector<PhotoNumber>& photos) {
    return *std::min_element(photos.begin(), photos.end());
}

}  // namespace

std::vector<FoundGroup> groups_of(std::vector<Photo> photos, const std::vector<Unsettled>& unsettled,
                                  const GroupRules& rules) {
    Questions questions;
    for (const auto& question : unsettled) {
        questions[question.photo] = &question;
    }
    Held held;
    std::vector<std::vector<PhotoNumber>> runs;
    for (const auto& taken : strands_of(std::move(photos))) {
        add_held(held, taken, questions, rules);
        RunWalk walk(questions, rules);
        std::for_each(taken.begin(), taken.end(), [&](const Photo& photo) { walk.take(photo); });
        for (auto& run : walk.finished()) {
            runs.push_back(std::move(run));
        }
    }
    std::sort(runs.begin(), runs.end(),
              [](const auto& a, const auto& b) { return first_number(a) < first_number(b); });
    std::vector<FoundGroup> groups;
    for (auto& [number, own] : held) {
        groups.push_back(group_of(number, std::move(own), questions, rules));
    }
    for (auto& run : runs) {
        groups.push_back(group_of(std::nullopt, std::move(run), questions, rules));
    }
    return groups;
}

}  // namespace stripbook::link
