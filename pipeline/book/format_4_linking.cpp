// What linking a day rests on and what it leaves to a person.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_linking = R"sql(
)sql";

}  // namespace stripbook::book
