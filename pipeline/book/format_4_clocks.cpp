// What is known of the cameras' clocks, and the photos' true times.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_clocks = R"sql(
)sql";

}  // namespace stripbook::book
