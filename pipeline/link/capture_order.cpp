#include "link/capture_order.h"

#include <algorithm>
#include <tuple>

namespace stripbook::link {

namespace {

using book::Photo;
using Span = std::vector<Photo>::iterator;

// DCF counts 0001 to 9999 and starts again (CIPA DC-009).
constexpr int counter_period = 9999;

// Photos of one moment, by counter. A run that crosses the roll-over holds high and low counters in one
// folder; it starts behind the widest gap on the counter's circle.
void order_by_counter(Span first, Span last) {
    std::sort(first, last, [](const Photo& a, const Photo& b) {
        return std::tie(a.dcf_directory, a.dcf_counter, a.number) <
               std::tie(b.dcf_directory, b.dcf_counter, b.number);
    });
    if (first->dcf_directory != std::prev(last)->dcf_directory || first->dcf_counter == 0) {
        return;
    }
    int widest = first->dcf_counter + counter_period - std::prev(last)->dcf_counter;
    Span start = first;
    for (Span it = std::next(first); it != last; ++it) {
        const int gap = it->dcf_counter - std::prev(it)->dcf_counter;
        if (gap > widest) {
            widest = gap;
            start = it;
        }
    }
    std::rotate(first, start, last);
}

}  // namespace

std::vector<Photo> in_capture_order(std::vector<Photo> photos) {
    std::sort(photos.begin(), photos.end(), [](const Photo& a, const Photo& b) {
        return std::tie(a.camera_time.seconds, a.number) < std::tie(b.camera_time.seconds, b.number);
    });
    for (Span first = photos.begin(); first != photos.end();) {
        const double moment = first->camera_time.seconds;
        const Span last = std::find_if(first, photos.end(),
                                       [&](const Photo& p) { return p.camera_time.seconds != moment; });
        order_by_counter(first, last);
        first = last;
    }
    return photos;
}

}  // namespace stripbook::link
