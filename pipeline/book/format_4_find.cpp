// The index of words that finding searches.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_find = R"sql(
)sql";

}  // namespace stripbook::book
