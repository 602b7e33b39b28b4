#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>

#include "bench/loops.h"
#include "bench/tables.h"
#include "errors.h"

namespace stripbook::bench {

namespace {

struct Photo {
    std::string name;
    std::string bytes;
    std::vector<number::TagNumber> tags;
};

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        throw OutsideError(path.string() + " cannot be read; give folders with photos and a truth.json.");
    }
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::filesystem::path photo_in(const std::filesystem::path& folder, const std::string& file) {
    const auto direct = folder / file;
    if (std::filesystem::exists(direct)) {
        return direct;
    }
    for (const auto& card : std::filesystem::directory_iterator(folder)) {
        if (std::filesystem::exists(card.path() / file)) {
            return card.path() / file;
        }
    }
    return direct;
}

std::vector<Photo> photos_of(const std::filesystem::path& folder) {
    const auto truth = nlohmann::json::parse(bytes_of(folder / "truth.json"));
    std::vector<Photo> photos;
    for (const auto& shot : truth.at("shots")) {
        const auto name = shot.at("file").get<std::string>();
        Photo photo{name, bytes_of(photo_in(folder, name)), {}};
        for (const auto& tag : shot.at("tags")) {
            if (const auto number = number::TagNumber::from_exact(tag.at("payload").get<std::string>())) {
                photo.tags.push_back(*number);
            }
        }
        photos.push_back(std::move(photo));
    }
    return photos;
}

struct Timing {
    double sum_ms = 0;
    double worst_ms = 0;
    int photos = 0;
    int read = 0;
    int wrong = 0;
    void add(double ms) {
        sum_ms += ms;
        worst_ms = std::max(worst_ms, ms);
        ++photos;
    }
};

double processor_ms() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

// Processor time of this thread, the best of `rounds`: what the machine's other work takes is not ours.
double fastest_ms(int rounds, const std::function<void()>& work) {
    double best = 1e9;
    for (int i = 0; i < rounds; ++i) {
        const double start = processor_ms();
        work();
        best = std::min(best, processor_ms() - start);
    }
    return best;
}

void time_photo(const Photo& photo, int rounds, Timing& a, Timing& b, Timing& own, bool verbose) {
    const auto pet = number::BookCode::from_typed("PET");
    std::vector<std::string> texts;
    std::vector<int> identities;
    std::vector<std::string> confirmed;
    const double a_ms = fastest_ms(rounds, [&] { texts = loop_a(photo.bytes); });
    a.add(a_ms);
    b.add(fastest_ms(1, [&] { identities = loop_b(photo.bytes); }));
    const double own_ms = fastest_ms(rounds, [&] { confirmed = ours(photo.bytes, pet); });
    own.add(own_ms);
    int read = 0;
    for (const auto& tag : photo.tags) {
        a.read += a_is_right(texts, tag) ? 1 : 0;
        b.read += b_is_right(identities, tag) ? 1 : 0;
        read += ours_is_right(confirmed, tag) ? 1 : 0;
    }
    own.read += read;
    own.wrong += wrong_numbers(confirmed, photo.tags);
    if (verbose) {
        fmt::print("    {:<34} A {:6.1f} ms   ours {:6.1f} ms   {} of {} tags\n", photo.name, a_ms, own_ms,
                   read, photo.tags.size());
    }
}

void print_timing(const std::string& name, const Timing& t, std::size_t tags) {
    fmt::print("  {:<6} mean {:7.1f} ms   worst {:7.1f} ms   {} of {} tags{}\n", name, t.sum_ms / t.photos,
               t.worst_ms, t.read, tags, t.wrong > 0 ? fmt::format("   {} WRONG", t.wrong) : "");
}

}  // namespace

void print_fast(const std::vector<std::filesystem::path>& photo_sets, int rounds, bool verbose) {
    fmt::print(
        "\nFast: one photo, file in memory to numbers; one thread, its processor time; best of {} (B: 1)\n",
        rounds);
    Timing a;
    Timing b;
    Timing own;
    std::size_t tags = 0;
    for (const auto& folder : photo_sets) {
        for (const auto& photo : photos_of(folder)) {
            time_photo(photo, rounds, a, b, own, verbose);
            tags += photo.tags.size();
        }
    }
    fmt::print("{} photos\n", a.photos);
    print_timing("A", a, tags);
    print_timing("B", b, tags);
    print_timing("ours", own, tags);
    std::fflush(stdout);
}

}  // namespace stripbook::bench
