#include "bench/link_day.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "link/clocks.h"
#include "sample_maker/dice.h"

namespace stripbook::bench {

namespace {

using sample_maker::Dice;

constexpr double minute_s = 60;

bool happens(Dice& dice, double chance) {
    return dice.between(0, 1) < chance;
}

// Box and Muller.
double normal(Dice& dice) {
    const double radius = std::sqrt(-2 * std::log(1 - dice.between(0, 1)));
    return radius * std::cos(2 * 3.14159265358979323846 * dice.between(0, 1));
}

double log_normal(Dice& dice, double median, double sigma) {
    return median * std::exp(sigma * normal(dice));
}

struct Person {
    double clock_s = 0;  ///< true time now
    TagShot habit = TagShot::first;
    double within_s = 14, within_sigma = 0.7;
    double between_s = 170, between_sigma = 0.6;
    double mean_photos = 4;
};

class Workshop {
    struct Visit {
        int camera = 0, part = 0, count = 1;
        bool tagged = true, unreadable = false;
    };

  public:
    explicit Workshop(const DayKind& kind) : kind_(kind), dice_(kind.seed) {
        for (int c = 0; c < kind.cameras; ++c) {
            Person p;
            p.clock_s = 8 * 60 * minute_s + dice_.between(0, 20 * minute_s);
            p.habit = kind.habits[static_cast<std::size_t>(c) % kind.habits.size()];
            p.within_s = kind.slow * dice_.between(8, 25);
            p.within_sigma = dice_.between(0.5, 0.85);
            p.between_s = kind.slow * dice_.between(110, 300);
            p.between_sigma = dice_.between(0.4, 0.7);
            p.mean_photos = dice_.between(3, 7);
            people_.push_back(p);
        }
    }

    std::vector<SimulatedPhoto> shoot() {
        while (static_cast<int>(photos_.size()) < kind_.photos) {
            const auto next =
                std::min_element(people_.begin(), people_.end(),
                                 [](const Person& a, const Person& b) { return a.clock_s < b.clock_s; });
            visit(static_cast<int>(next - people_.begin()));
        }
        std::sort(photos_.begin(), photos_.end(), [](const SimulatedPhoto& a, const SimulatedPhoto& b) {
            return a.camera != b.camera ? a.camera < b.camera : a.true_s < b.true_s;
        });
        return photos_;
    }

  private:
    int photos_of_a_part(const Person& p) {
        int count = 1;
        const double more = 1 - 1 / p.mean_photos;
        while (count < 25 && happens(dice_, count < 2 ? 0.92 : more)) {
            ++count;
        }
        return count;
    }

    void visit(int camera) {
        Person& p = people_[static_cast<std::size_t>(camera)];
        const int part = next_part_++;
        if (dice_.whole(1, 12) == 1) {
            place_ = dice_.whole(1, 1000000);
        }
        const double from_s = p.clock_s;
        Visit v{camera, part, photos_of_a_part(p), !happens(dice_, kind_.forgotten),
                happens(dice_, kind_.unreadable)};
        take(v, p);
        const double to_s = p.clock_s;
        if (kind_.cameras > 1 && happens(dice_, kind_.joined)) {
            join(v, from_s, to_s);
        }
        rest(p);
    }

    void rest(Person& p) {
        p.clock_s += log_normal(dice_, p.between_s, p.between_sigma);
        if (happens(dice_, 0.02)) {
            p.clock_s += dice_.between(12, 35) * minute_s;  // tea
        }
        if (kind_.habits_change && happens(dice_, 0.04)) {
            p.habit = static_cast<TagShot>(dice_.whole(0, 3));
        }
    }

    // Somebody else who is between two parts just then takes photos of this one, too.
    void join(const Visit& of, double from_s, double to_s) {
        for (std::size_t c = 0; c < people_.size(); ++c) {
            Person& p = people_[c];
            if (static_cast<int>(c) == of.camera || p.clock_s < to_s + minute_s ||
                last_shot(static_cast<int>(c)) > from_s - 20) {
                continue;
            }
            Visit v = of;
            v.camera = static_cast<int>(c);
            v.count = dice_.whole(1, 5);
            v.tagged = of.tagged && happens(dice_, 0.5);
            Person there = p;
            there.clock_s = dice_.between(from_s, std::max(from_s + 1, to_s));
            take(v, there);
            p.clock_s = std::max(p.clock_s, there.clock_s + log_normal(dice_, p.between_s, p.between_sigma));
            return;
        }
    }

    double last_shot(int camera) const {
        double last = 0;
        for (auto it = photos_.rbegin(); it != photos_.rend() && last == 0; ++it) {
            last = it->camera == camera ? it->true_s : 0;
        }
        return last;
    }

    [[nodiscard]] static bool tag_due(TagShot habit, int shot, int count, int middle) {
        switch (habit) {
            case TagShot::first:
                return shot == 0;
            case TagShot::last:
                return shot == count - 1;
            case TagShot::both:
                return shot == 0 || shot == count - 1;
            default:
                return shot == middle;
        }
    }

    void take(const Visit& v, Person& p) {
        const TagShot habit =
            happens(dice_, kind_.against_habit) ? static_cast<TagShot>(dice_.whole(0, 3)) : p.habit;
        const int middle = v.count < 3 ? v.count - 1 : dice_.whole(1, v.count - 2);
        for (int shot = 0; shot < v.count; ++shot) {
            SimulatedPhoto photo;
            photo.camera = v.camera;
            photo.true_s = p.clock_s;
            photo.part = v.part;
            photo.place = place_;
            const bool due = v.tagged && tag_due(habit, shot, v.count, middle);
            photo.shows_own_tag = due || (v.tagged && happens(dice_, kind_.again));
            photo.tag_unreadable = v.unreadable;
            if (!photo.shows_own_tag && v.part > 105 && happens(dice_, kind_.stray)) {
                photo.neighbours_tag = v.part + (happens(dice_, 0.5) ? 1 : -1) * dice_.whole(1, 4);
            }
            photos_.push_back(photo);
            const bool last = shot == v.count - 1;
            p.clock_s += last ? 0 : log_normal(dice_, p.within_s, p.within_sigma);
            if (!last && happens(dice_, 0.002)) {
                p.clock_s += dice_.between(5, 25) * minute_s;  // called away
            }
        }
    }

    const DayKind& kind_;
    Dice dice_;
    std::vector<Person> people_;
    std::vector<SimulatedPhoto> photos_;
    int next_part_ = 101;
    int place_ = 1;
};

using number::TagNumber;

const number::BookCode& book_code() {
    static const auto code = number::BookCode::from_typed("PET");
    return code;
}

constexpr int width_px = 4000;
constexpr int height_px = 3000;
constexpr std::size_t signature_bytes = 48;

// A square of the tag's area somewhere in the picture.
void put_in_picture(book::Sighting& s, double size, bool at_edge, Dice& dice) {
    const double side_px = size * std::sqrt(1.0 * width_px * height_px);
    const double half = side_px / 2;
    double x = dice.between(0.25 * width_px, 0.75 * width_px);
    const double y =
        dice.between(std::max(half, 0.25 * height_px), std::min(height_px - half, 0.75 * height_px));
    if (at_edge) {
        x = half + dice.between(0, 0.08) * width_px;
        x = happens(dice, 0.5) ? width_px - x : x;
    }
    s.corners_px = {{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}}};
}

book::Sighting sighting_of(int serial, bool own, bool unreadable, Dice& dice) {
    book::Sighting s;
    const TagNumber tag(book_code(), serial);
    const double doubtful = own ? 0.012 : 0.25;  // far and small (judgement, no source)
    s.confirmed = !unreadable && !happens(dice, doubtful);
    if (s.confirmed) {
        s.text = tag.text();
        s.by_qr = happens(dice, own ? 0.9 : 0.5);
        s.how = s.by_qr ? "QR code and 3 fiducials" : "3 fiducials";
    } else {
        s.doubt = "two fiducials alone are not enough to be sure";
        if (happens(dice, 0.6)) {
            s.suggestions = {tag.text()};
        }
    }
    put_in_picture(s, own ? log_normal(dice, 0.14, 0.35) : log_normal(dice, 0.05, 0.35),
                   happens(dice, own ? 0.06 : 0.6), dice);
    return s;
}

class Looks {
  public:
    explicit Looks(const DayKind& kind) : kind_(kind), dice_(kind.seed ^ 0x5157) {}

    std::string signature(const SimulatedPhoto& photo) {
        const auto& place = look(places_, photo.place, {}, 40);
        const auto& part = look(parts_, photo.part, place, 30 * (1 - kind_.look_alike));
        // Each camera has its own idea of white, and its own distance.
        const auto& camera = look(cameras_, photo.camera, Levels(signature_bytes, 0), 12);
        std::string bytes(1, '\1');
        for (std::size_t i = 0; i < signature_bytes; ++i) {
            // One photo is nearer, another from the side.
            const double level = part[i] + camera[i] + 9 * normal(dice_);
            bytes += static_cast<char>(static_cast<unsigned char>(std::clamp(level, 0.0, 255.0)));
        }
        return bytes;
    }

  private:
    using Levels = std::vector<double>;
    const Levels& look(std::map<int, Levels>& known, int which, const Levels& around, double spread) {
        const auto [it, is_new] = known.try_emplace(which);
        if (is_new) {
            for (std::size_t i = 0; i < signature_bytes; ++i) {
                it->second.push_back((around.empty() ? 128 : around[i]) + spread * normal(dice_));
            }
        }
        return it->second;
    }
    const DayKind& kind_;
    Dice dice_;
    std::map<int, Levels> places_, parts_, cameras_;
};

}  // namespace

std::vector<SimulatedPhoto> simulate(const DayKind& kind) {
    return Workshop(kind).shoot();
}

SimulatedDay read_by_noise(const std::vector<SimulatedPhoto>& photos, const DayKind& kind) {
    SimulatedDay day;
    Dice dice(kind.seed ^ 0x9E3779B97F4A7C15ULL);
    Looks looks(kind);
    std::map<int, double> clock_error_s;
    for (const SimulatedPhoto& shot : photos) {
        const auto [error, is_new] = clock_error_s.try_emplace(shot.camera, 0);
        if (is_new) {
            error->second = kind.clock_error_s * normal(dice);
        }
        link::PhotoSightings p;
        p.photo.number = book::PhotoNumber{static_cast<std::int64_t>(day.photos.size()) + 1};
        p.photo.camera = book::CameraId{shot.camera + 1};
        p.photo.original.kind = book::FileKind::photo;
        p.photo.camera_time.seconds = shot.true_s + error->second;
        p.photo.corrected_seconds = p.photo.camera_time.seconds;
        p.photo.dcf_directory = 100;
        p.photo.dcf_counter = static_cast<int>(p.photo.number.value % 9999) + 1;
        p.photo.read_state = book::ReadState::read;
        p.photo.width_px = width_px;
        p.photo.height_px = height_px;
        if (kind.looks) {
            p.signature = looks.signature(shot);
        }
        if (shot.shows_own_tag && !happens(dice, 0.012)) {
            p.sightings.push_back(sighting_of(shot.part, true, shot.tag_unreadable, dice));
            if (p.sightings.back().confirmed) {
                day.shown.insert(shot.part);
            }
        }
        if (shot.neighbours_tag > 0) {
            p.sightings.push_back(sighting_of(shot.neighbours_tag, false, false, dice));
        }
        day.part_of[p.photo.number] = shot.part;
        day.photos.push_back(std::move(p));
    }
    return day;
}

void set_clocks_right(SimulatedDay& day) {
    std::map<book::CameraId, link::CameraEvidence> cameras;
    for (const auto& p : day.photos) {
        link::CameraEvidence& evidence = cameras[p.photo.camera];
        evidence.camera = p.photo.camera;
        evidence.photos.push_back(p.photo);
        for (const auto& s : p.sightings) {
            if (s.confirmed) {
                evidence.tags.push_back({p.photo.number, s.text});
            }
        }
    }
    std::vector<link::CameraEvidence> all;
    for (auto& [camera, evidence] : cameras) {
        all.push_back(std::move(evidence));
    }
    std::map<book::PhotoNumber, double> corrected;
    for (const auto& time : link::true_times(all, link::Zone(0)).times) {
        corrected[time.photo] = time.corrected_s;
    }
    for (auto& p : day.photos) {
        p.photo.corrected_seconds = corrected.at(p.photo.number);
    }
}

}  // namespace stripbook::bench
