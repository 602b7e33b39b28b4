#include "refit/order.h"

#include <functional>
#include <queue>

#include "refit/circles.h"
#include "refit/step_graph.h"

namespace stripbook::refit {

Order order_of(const std::vector<book::Removal>& removals, const std::vector<book::RefitWord>& words) {
    const StepGraph graph = step_graph(removals, words);
    std::vector<std::size_t> arrows_in(graph.steps.size(), 0);
    for (const auto& arrows : graph.arrows) {
        for (const auto& arrow : arrows) {
            ++arrows_in[arrow.to];
        }
    }
    // The lowest number is the step removed last.
    std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> can_be_next;
    for (std::size_t step = 0; step < graph.steps.size(); ++step) {
        if (arrows_in[step] == 0) {
            can_be_next.push(step);
        }
    }
    Order order;
    std::vector<bool> has_place(graph.steps.size(), false);
    while (!can_be_next.empty()) {
        const std::size_t step = can_be_next.top();
        can_be_next.pop();
        has_place[step] = true;
        order.steps.push_back(graph.steps[step]);
        for (const auto& arrow : graph.arrows[step]) {
            if (--arrows_in[arrow.to] == 0) {
                can_be_next.push(arrow.to);
            }
        }
    }
    if (order.steps.size() == graph.steps.size()) {
        return order;
    }
    order.circles = circles_among(graph, has_place);
    for (std::size_t step = 0; step < graph.steps.size(); ++step) {
        if (!has_place[step]) {
            order.without_step.insert(order.without_step.end(), graph.steps[step].begin(),
                                      graph.steps[step].end());
        }
    }
    return order;
}

}  // namespace stripbook::refit
