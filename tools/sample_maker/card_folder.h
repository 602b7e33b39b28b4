// A folder of made photographs as a camera card keeps them: names by DCF (CIPA DC-009), and the truth beside
// them.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "sample_maker/scene.h"
#include "sample_maker/truth.h"

namespace stripbook::sample_maker {

/// Makes the folder. Throws WrongUse when it holds anything, OutsideError when it cannot be made or read.
void make_empty_folder(const std::filesystem::path& folder);

/// Throws OutsideError, naming the file, when its bytes do not all arrive. Makes missing folders.
void write_file(const std::filesystem::path& file, const std::string& bytes);

/// The file counter of one camera: `DCIM/100MADE_/MADE0001.JPG`; after 9999 comes 0001 in the next folder.
class DcfCounter {
  public:
    /// `folder_letters` five and `file_letters` four of A-Z 0-9 _; `folder` 100 to 999, `file` 1 to 9999
    /// comes first.
    DcfCounter(std::string folder_letters, std::string file_letters, int folder, int file);
    /// Throws WrongUse when folder 999 is full.
    std::string next();

  private:
    std::string folder_letters_;
    std::string file_letters_;
    int folder_;
    int file_;
};

/// Writes photos below `top` and collects their truth.
class PhotoWriter {
  public:
    explicit PhotoWriter(std::filesystem::path top) : top_(std::move(top)) {}
    /// `notes.file` is where the photo goes, below `top`.
    void write(const Scene& scene, const ShotNotes& notes);
    /// A file made elsewhere, and its entry of "shots".
    void write(const std::string& file, const std::string& bytes, const nlohmann::json& shot);
    /// Writes {"shots": [...]} together with what `more` holds.
    void write_truth(const std::filesystem::path& file,
                     const nlohmann::json& more = nlohmann::json::object()) const;

  private:
    std::filesystem::path top_;
    nlohmann::json shots_ = nlohmann::json::array();
};

/// "2026-03-20T08:58:15.530" or, for Exif, "2026:03:20 08:58:15", of milliseconds since 1970, as if it were
/// UTC.
std::string written_time(std::int64_t milliseconds);
std::string exif_time(std::int64_t milliseconds);
/// The hundredths, two digits: what cameras write as sub-seconds.
std::string exif_hundredths(std::int64_t milliseconds);

}  // namespace stripbook::sample_maker
