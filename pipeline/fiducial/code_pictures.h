// What a camera shows of every identity's data modules, at some degrees of blur.
#pragma once

#include <array>
#include <vector>

#include "fiducial/find.h"

namespace stripbook::fiducial {

/// The identities of one family under one blur: expected module levels with mean 0 and length 1, stored so
/// that sixteen identities at a time are compared (their module 0, then their module 1, ...).
class CodePictures {
  public:
    CodePictures(Family family, double blur_modules);
    [[nodiscard]] int identities() const { return identities_; }
    /// Correlation of every identity with `seen` (data modules row by row, upright).
    void correlate(const std::vector<float>& seen, std::vector<float>& likeness) const;

  private:
    int identities_;
    int padded_;
    int modules_;
    std::vector<float> levels_;
};

/// Data modules along a side: 6 of 36h11, 5 of 25h9.
int data_across(Family family);

/// The same identities from sharp to as blurred as can still be read (standard deviation 0.15, 0.4, 0.6
/// modules), made once a process.
const std::array<CodePictures, 3>& code_pictures(Family family);

}  // namespace stripbook::fiducial
