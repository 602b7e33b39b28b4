// Work done in a process of its own, as a user without rights when the tests run as root.
#pragma once

#include <functional>

namespace stripbook::test {

/// 0 when `work` returned true, 1 when false, 3 when it threw, -1 when it was killed.
int as_nobody(const std::function<bool()>& work);

}  // namespace stripbook::test
