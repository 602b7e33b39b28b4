// Why a photo was linked, or was left to a person: one line in plain words.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "link/day_model.h"

namespace stripbook::link {

/// Where a camera's day shows which part: photos with its tag, or a person's word.
class Anchors {
  public:
    Anchors(const CameraDay& day, const std::vector<Verdict>& verdicts, const Rules& rules);

    /// Why the untagged photo at `place` belongs to the part.
    [[nodiscard]] std::string follows(std::size_t place, const number::TagNumber& tag) const;
    /// Why it needs a person.
    [[nodiscard]] std::string needs_person(std::size_t place) const;
    /// A pause lies between the photo and every tag shot of the part, with no tag shot behind it.
    [[nodiscard]] bool beyond_a_pause(std::size_t place, const number::TagNumber& tag) const;
    /// The photo from it to the part's only tag shot near by that may be another part's tag shot: one with a
    /// tag of another book or one not read, or that does not decode.
    [[nodiscard]] std::optional<std::size_t> behind_a_doubt(std::size_t place,
                                                            const number::TagNumber& tag) const;
    /// Why `behind_a_doubt` needs a person.
    [[nodiscard]] std::string doubt_between(std::size_t doubt) const;
    /// Why `beyond_a_pause` needs a person.
    [[nodiscard]] std::string pause_between(std::size_t place, const number::TagNumber& tag) const;

  private:
    struct Near {
        std::optional<std::size_t> before, behind;
    };
    [[nodiscard]] bool may_be_unread_tag_shot(const Observed& o) const;
    [[nodiscard]] Near near(std::size_t place, const number::TagNumber& tag) const;
    [[nodiscard]] std::string name_of(std::size_t place) const;

    const CameraDay& day_;
    const std::vector<Verdict>& verdicts_;
    double link_time_s_;
    std::optional<double> small_;  ///< logarithm of the size below which a tag is no tag shot's
    std::map<number::TagNumber, std::vector<std::size_t>> places_;
    std::vector<std::size_t> stretch_;  ///< running number of the stretch between pauses, by photo
    std::vector<std::size_t> run_;      ///< running number of the likeliest runs, by photo
    std::vector<std::size_t> doubts_;   ///< places of photos that may be a tag shot nobody could read
};

}  // namespace stripbook::link
