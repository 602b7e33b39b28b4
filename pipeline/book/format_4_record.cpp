// The parts tree, inspection, paths, hazards.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_record = R"sql(
)sql";

}  // namespace stripbook::book
