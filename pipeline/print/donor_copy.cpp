#include "print/donor_copy.h"

#include <utility>

namespace stripbook::print {

namespace {

template <typename Entries>
void forget_names(Entries& entries) {
    for (auto& each : entries) {
        each.entry.by.clear();
        each.entry.who.clear();
    }
}

void forget_costs(book::PartFile& file) {
    file.path.price_cents.reset();
    for (auto& work : file.works) {
        work.hours.reset();
        work.hours_taken.reset();
    }
}

}  // namespace

book::PartFile donor_copy(book::PartFile file, bool with_costs) {
    file.part.storage.clear();
    file.part.notes.clear();
    file.part.parent.reset();
    file.part.other_tag.clear();
    file.taken_from_it.clear();
    file.history.clear();
    file.path.by.clear();
    forget_names(file.inspection.findings);
    forget_names(file.inspection.readings);
    forget_names(file.inspection.limits);
    for (auto& work : file.works) {
        work.done_by.clear();
    }
    // The reason of a link may name another tag, and who said so.
    for (auto& photo : file.photos) {
        photo.link.why.clear();
        photo.stage_why.clear();
    }
    if (!with_costs) {
        forget_costs(file);
    }
    return file;
}

}  // namespace stripbook::print
