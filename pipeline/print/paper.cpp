#include "print/paper.h"

#include <fmt/format.h>

#include "errors.h"

namespace stripbook::print {

Paper paper_named(std::string_view name) {
    if (name == "a4") {
        return Paper::a4();
    }
    if (name == "letter") {
        return Paper::us_letter();
    }
    throw WrongUse(fmt::format("\"{}\" is no paper: say a4 or letter", name));
}

}  // namespace stripbook::print
