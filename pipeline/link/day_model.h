// The model of one camera's day and what it says of each photo: docs/linking.md.
//
// A hidden Markov model over the photos in capture order. Its state is (part, habit, phase of the run); the
// part is one of the candidates near the photo, or "a part whose tag was not read". Forward and backward sums
// are exact over the candidates, so that the work grows with the number of photos. The chances of the model
// are learned from the day (learned.h) by expectation and maximisation.
#pragma once

#include <vector>

#include "link/learned.h"
#include "link/observed.h"

namespace stripbook::link {

/// When and what another camera was at, and how that looked: from its own day's posterior.
struct Elsewhere {
    double from_s = 0, to_s = 0;
    number::TagNumber tag;
    std::string look;  ///< the common signature of its photos; empty: not known
};

/// What the other cameras were at.
struct Company {
    std::vector<Elsewhere> runs;  ///< by time
    /// The chance that a run without a tag is of a part that another camera is at.
    double sharing = 0;
    CompanyLooks looks;
};

/// What the model says of one photo.
struct Verdict {
    /// Each candidate part and the chance that the photo belongs to it, best first; a photo of two parts
    /// belongs to both. What is missing to 1 is a part without a read tag.
    std::vector<std::pair<number::TagNumber, double>> chances;
    std::size_t habit = 0;  ///< the likeliest habit of its run
    double same_run_as_before = 0;
    [[nodiscard]] double chance_of(const number::TagNumber& tag) const;
};

struct CameraDay {
    std::vector<Observed> photos;  ///< in capture order
};

struct ModelChoices {
    double link_time_s = 180;
    int rounds = 8;  ///< of learning
};

std::vector<Verdict> judge(const CameraDay& day, const Company& company, const ModelChoices& choices);

}  // namespace stripbook::link
