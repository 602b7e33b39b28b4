// stripbook-bench: reading measured beside plain loops over the libraries. Exit status 0 done, 1 a wrong
// number was read, 2 wrong use, 3 failed.
#include <CLI/CLI.hpp>
#include <cstdlib>
#include <iostream>
#include <opencv2/core.hpp>
#include <sstream>

#include "bench/tables.h"
#include "errors.h"

namespace {

using namespace stripbook;

struct Options {
    bool far = false, dirty = false, fast = false, corners = false, wrong = false, full = false;
    bool verbose = false;
    int count = 0;
    int tags = 2000, tagless = 500;
    int rounds = 3;
    std::uint64_t seed = 1;
    std::vector<std::filesystem::path> photos;
};

std::vector<std::filesystem::path> photo_sets(const Options& options) {
    if (!options.photos.empty()) {
        return options.photos;
    }
    std::vector<std::filesystem::path> sets{"sample_images"};
    if (const char* more = std::getenv("STRIPBOOK_PHOTO_SETS")) {
        std::stringstream list(more);
        for (std::string one; std::getline(list, one, ':');) {
            sets.emplace_back(one);
        }
    }
    return sets;
}

int run(const Options& options) {
    cv::setNumThreads(1);
    const bool all = !(options.far || options.dirty || options.fast || options.corners || options.wrong);
    const int count = options.count > 0 ? options.count : options.full ? 400 : 40;
    if (all || options.fast) {
        bench::print_fast(photo_sets(options), options.rounds, options.verbose);
    }
    if (all || options.corners) {
        bench::print_corners(options.full ? 100 : 20, options.seed);
    }
    if (all || options.far) {
        bench::print_far(count, options.seed);
    }
    if (all || options.dirty) {
        bench::print_dirty(count, options.seed);
    }
    return options.wrong && bench::print_wrong(options.tags, options.tagless, options.seed) > 0 ? 1 : 0;
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("Measures stripbook's reading beside plain loops over the libraries.", "stripbook-bench");
    app.require_subcommand(1);
    Options options;
    CLI::App* read =
        app.add_subcommand("read", "reading tags: far, dirty, fast, corners; all when none is named");
    read->add_flag("--far", options.far, "read rate over pixels per millimetre");
    read->add_flag("--dirty", options.dirty, "read rate over grime, covers, glare, shake, exposure");
    read->add_flag("--fast", options.fast, "time of one photo");
    read->add_flag("--corners", options.corners, "corners against the truth");
    read->add_flag("--wrong", options.wrong, "numbers read that are not there; only when named");
    read->add_flag("--full", options.full, "400 tags a point instead of 40 (hours)");
    read->add_flag("--verbose", options.verbose, "each photo's time");
    read->add_option("--count", options.count, "tags a point")->check(CLI::Range(1, 1'000'000));
    read->add_option("--tags", options.tags, "made tags for --wrong")->check(CLI::Range(0, 10'000'000));
    read->add_option("--tagless", options.tagless, "pictures without a tag for --wrong")
        ->check(CLI::Range(0, 10'000'000));
    read->add_option("--rounds", options.rounds, "times each photo is read")->check(CLI::Range(1, 100));
    read->add_option("--seed", options.seed, "same seed, same pictures");
    read->add_option("--photos", options.photos,
                     "folders with a truth.json; else sample_images and those of STRIPBOOK_PHOTO_SETS");
    try {
        app.parse(argc, argv);
        return run(options);
    } catch (const CLI::Success& asked_for_help) {
        return app.exit(asked_for_help);
    } catch (const CLI::ParseError& wrong) {
        std::cerr << wrong.what() << " See stripbook-bench --help.\n";
        return 2;
    } catch (const WrongUse& wrong) {
        std::cerr << wrong.what() << "\n";
        return 2;
    } catch (const std::exception& failed) {
        std::cerr << failed.what() << "\n";
        return 3;
    }
}
