#include "find_sheet.h"

#include "print_job.h"
#include "terminal.h"

namespace stripbook::cli {

print::ContactSheetResult write_find_sheet(const book::Book& book, const std::vector<book::PartFile>& files,
                                           const std::string& what, const TypedSheet& typed) {
    Progress progress("Pictures", false);
    print::ContactSheetOptions options;
    options.what = what;
    options.date = today();
    options.version = STRIPBOOK_VERSION;
    options.letter = typed.paper == "letter";
    options.progress = [&](std::size_t done, std::size_t all) { progress.show(done, all); };
    options.stop = stop_requested;
    return print::write_contact_sheet(book, files, pdf_path(book, typed.out, "contact-sheet.pdf"), options);
}

}  // namespace stripbook::cli
