// Local time and UTC by the IANA time zone database of this computer.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace stripbook::link {

/// Seconds east of UTC of "+01:00"; nothing when it is no such offset.
std::optional<double> seconds_of_offset(std::string_view offset);

/// What a local time is in UTC. When clocks go back an hour comes twice, when they go forward one is skipped.
struct UtcOfLocal {
    double first_s = 0;   ///< of a skipped hour: as if the clocks had not been put forward
    double second_s = 0;  ///< the same as `first_s` but for an hour that comes twice, or is skipped
    bool twice = false;
    bool skipped = false;
};

/// Clocks are put forward or back.
struct ZoneChange {
    double utc_s = 0;
    double before_s = 0;  ///< offset until then
    double after_s = 0;   ///< offset from then
};

/// A zone of the database ("Europe/Berlin"), or a fixed offset. Times are seconds since 1970-01-01: UTC, or
/// local time as if it were UTC.
class Zone {
  public:
    /// Throws OutsideError when this computer does not know the zone.
    explicit Zone(const std::string& name);
    explicit Zone(double fixed_offset_s);
    Zone(Zone&&) noexcept;
    Zone& operator=(Zone&&) noexcept;
    ~Zone();

    /// Seconds east of UTC.
    [[nodiscard]] double offset_s(double utc_s) const;
    [[nodiscard]] double local_s(double utc_s) const { return utc_s + offset_s(utc_s); }
    [[nodiscard]] UtcOfLocal utc_of(double local_s) const;
    /// The last change of the offset at or before a moment; nothing in a zone without one.
    [[nodiscard]] std::optional<ZoneChange> last_change(double utc_s) const;

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace stripbook::link
