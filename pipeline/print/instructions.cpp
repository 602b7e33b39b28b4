#include "print/instructions.h"

#include <fmt/format.h>

#include <cmath>

#include "print/reach.h"
#include "print/report_flow.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr std::size_t many_lines = 12;

// A page with a title, numbered steps and cautions.
class InstructionPage {
  public:
    InstructionPage(PdfDocument& document, const Paper& paper, const std::string& title)
        : flow_(document, paper) {
        flow_.move_down(-6);
        flow_.paragraph(title, {Face::bold, 15}, 1);
        flow_.move_down(3);
    }

    void heading(const std::string& words) {
        flow_.move_down(-2.5);
        flow_.heading(words, 10);
    }

    void say(const std::string& words) {
        flow_.paragraph(words, type::body, many_lines);
        flow_.move_down(1);
    }

    void command(const std::string& words) {
        flow_.paragraph(words, {Face::mono, 8}, flow_.left() + 6, flow_.width() - 6, many_lines);
        flow_.move_down(1);
    }

    void steps(const std::vector<std::string>& words) {
        constexpr double indent = 6;
        for (std::size_t i = 0; i < words.size(); ++i) {
            const double y = flow_.y() + 0.78 * line_height_mm(type::body);
            flow_.sheet().text(flow_.left(), y, fmt::format("{}.", i + 1), type::body_bold);
            flow_.paragraph(words[i], type::body, flow_.left() + indent, flow_.width() - indent, many_lines);
            flow_.move_down(0.8);
        }
    }

    void cautions(const std::vector<std::string>& words) {
        heading("Take care");
        const double top = flow_.y();
        flow_.move_down(2);
        for (const auto& line : words) {
            flow_.paragraph(line, type::body, flow_.left() + 3, flow_.width() - 6, many_lines);
            flow_.move_down(0.8);
        }
        flow_.move_down(1);
        flow_.sheet().frame({flow_.left(), top, flow_.width(), flow_.y() - top}, rule_mm);
    }

    void reach_table() {
        flow_.move_down(2);
        std::vector<std::vector<std::string>> rows;
        constexpr double large_px_per_mm = 1;
        constexpr double measuring_px_per_mm = 3;
        for (const auto& camera : common_cameras()) {
            rows.push_back(
                {camera.camera, fmt::format("{:.1f} m", camera.metres_at(large_px_per_mm)),
                 fmt::format("{:.1f} m", camera.metres_at(large_px_per_mm / number::small_tag_scale)),
                 fmt::format("{:.1f} m", camera.metres_at(measuring_px_per_mm))});
        }
        draw_text_table(flow_,
                        {{"camera", 2.4},
                         {"large tag (1 px/mm)", 1.2},
                         {"small tag (1.7 px/mm)", 1.2},
                         {"measuring (3 px/mm)", 1.2}},
                        rows, 2);
        flow_.move_down(2);
    }

  private:
    ReportFlow flow_;
};

const char* const local_codes = "Local codes and licensed practice come before anything printed here.";

void add_photo_steps(InstructionPage& page) {
    page.heading("Photographs");
    page.steps(
        {"Tag first, then details: one photograph of tag and part in place, then as many of the details as "
         "you "
         "like. A photograph without a tag goes to the part whose tag was photographed before it, so begin "
         "the "
         "next part with its tag.",
         "On the bench, lay tag, part and scale marker flat together, and hold the camera square on.",
         "Lay the part inside the marker's frame where it fits; use the mat for large parts. Measuring "
         "beside a "
         "marker is several times less sure than measuring inside its frame.",
         "Stay near enough: the whole tag sharp in the picture, and no farther than the table says."});
    page.reach_table();
}

}  // namespace

void add_tag_instructions(PdfDocument& document, const Paper& paper) {
    InstructionPage page(document, paper, "Part tags: how to use them");
    page.say(
        "Print at 100 %, with no scaling (\"actual size\"). Cut along the marks. Each number is printed "
        "once: "
        "never copy a tag. If one is lost, print that number again on purpose and destroy the old one when "
        "it "
        "turns up.");
    page.heading("Wiring a tag on");
    page.steps(
        {"Punch the hole. Tie the tag with soft wire through the hole and through the part itself (a bolt "
         "hole, a "
         "lug), twisted shut, with enough slack for the tag to lie flat.",
         "A tag that was printed on both faces is folded along the dashed line and glued or laminated.",
         "Bag small fasteners under the tag of their part.",
         "Paper does not survive solvent or blasting. Use polyester or other plastic printing film with a "
         "toner "
         "print for the wash, and take every tag off before blasting: stamp the short number on a metal disc "
         "and wire that to the part instead."});
    add_photo_steps(page);
    page.heading("The black squares");
    page.say(
        "The four black squares and the square code in the middle all say the same number, so that a tag is "
        "read when part of it is dirty, covered or far away. Keep the white around them white: write only on "
        "the "
        "lines.");
    page.cautions(
        {"Wire tags on where they cannot be caught: away from sharp edges and from anything that moves.",
         "Tag a heavy part before it is lifted, not while it hangs. Nobody under a load.",
         "Springs under load, and anything that may hold pressure, are made safe before a tag goes on.",
         local_codes});
}

void add_stage_card_instructions(PdfDocument& document, const Paper& paper) {
    InstructionPage page(document, paper, "Stage cards: how to use them");
    page.say(
        "Print at 100 %, with no scaling, on stiff matt stock. Lay the card that fits beside tag and part "
        "when a "
        "part is photographed: as removed, cleaned, inspected, blasted, mock-up, painted, refitted. The two "
        "black squares on a card are the same, so that one covered square does no harm; keep both in the "
        "picture where you can.");
    add_photo_steps(page);
    page.cautions({"Lay cards down before a part is lifted or held, not while it hangs. Nobody under a load.",
                   "Springs under load, and anything that may hold pressure, are made safe before a part is "
                   "photographed.",
                   local_codes});
}

void add_marker_instructions(PdfDocument& document, const Paper& paper, const number::MarkerLayout& layout,
                             int pieces) {
    InstructionPage page(document, paper, "Scale marker (" + layout.kind + "): how to use it");
    page.heading("Printing");
    std::vector<std::string> printing{
        "Print at 100 %, with no scaling (\"actual size\"), on matt stock: glossy paper mirrors the lamps."};
    if (pieces > 1) {
        printing.push_back(
            fmt::format("This marker is glued from {} sheets. Cut each along its left and upper line, lay it "
                        "over the strip "
                        "marked \"glue\" of its neighbour, edge on line, until the small crosses meet.",
                        pieces));
    }
    printing.emplace_back("Glue it flat to a board. A marker that bends gives wrong dimensions.");
    printing.push_back(fmt::format(
        "Printers stretch. Measure both check lines with a caliper, from tick to tick (drawn {:.1f} mm "
        "across and {:.1f} mm along), and tell the book:",
        layout.check_across.length(), layout.check_along.length()));
    page.steps(printing);
    std::string command =
        fmt::format("stripbook markers measured {} --across {:.1f} --along {:.1f}", layout.kind,
                    layout.check_across.length() - 0.3, layout.check_along.length() + 0.2);
    if (pieces > 1) {
        command += fmt::format(" --sides {0:.1f} {1:.1f} {0:.1f} {1:.1f} --diagonals {2:.1f} {2:.1f}",
                               layout.outer_width(), layout.outer_height(),
                               std::hypot(layout.outer_width(), layout.outer_height()));
        page.command(command);
        page.say(
            "The sides are top, right, bottom, left, between the fine crosses in the outer corners; the "
            "diagonals run from cross to cross, falling (from the top left) and rising.");
    } else {
        page.command(command);
    }
    add_photo_steps(page);
    page.heading("What it is for");
    page.say(
        "The black squares give the photograph its scale and its plane; the square code says which printed "
        "sheet "
        "this is, so that the right correction is used. A dimension from a photograph is for identification: "
        "fits "
        "and load-bearing decisions need an instrument.");
    page.cautions(
        {"Support parts on the bench so that they cannot roll or tip. Lift heavy parts with tackle that is "
         "rated for them. Nobody under a load.",
         "Springs under load, and anything that may hold pressure, are made safe first.", local_codes});
}

}  // namespace stripbook::print
