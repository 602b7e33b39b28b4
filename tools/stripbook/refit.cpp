// stripbook refit: putting the machine back together.
#include "refit_plan.h"

namespace stripbook::cli {

void add_refit(CLI::App& app, Context& context) {
    auto* refit =
        app.add_subcommand("refit", "putting it back together: the order, what is next, refit sheets");
    refit->require_subcommand(1);
    add_refit_list(*refit, context);
    add_refit_words(*refit, context);
    add_refit_note(*refit, context);
    add_refit_sheet(*refit, context);
}

}  // namespace stripbook::cli
