// What refitting needs to know of a part, and what goes before what.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_refit = R"sql(
)sql";

}  // namespace stripbook::book
