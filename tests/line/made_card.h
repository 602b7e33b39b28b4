// Small camera cards for the tests of the whole line: drawn by the sample maker, dated by the exiv2 command.
#pragma once

#include <filesystem>
#include <string>

namespace stripbook::test {

class MadeCard {
  public:
    explicit MadeCard(std::filesystem::path folder);

    /// A tag of the book PET, large and clear, 800 x 600, taken at `time` ("2026:03:20 08:58:15") by the
    /// camera with this serial number.
    void tag_shot(const std::string& name, const std::string& tag, const std::string& time,
                  const std::string& camera = "A1") const;
    /// The same with its QR code covered, so that only the fiducials speak.
    void fiducials_only_shot(const std::string& name, const std::string& tag, const std::string& time) const;
    /// A stage card and nothing else, with the word of its stage.
    void stage_card_shot(const std::string& name, const std::string& stage, const std::string& time) const;
    /// A workshop floor without a tag.
    void floor(const std::string& name, const std::string& time, const std::string& camera = "A1") const;
    /// Any bytes.
    void file(const std::string& name, const std::string& bytes) const;

    [[nodiscard]] const std::filesystem::path& path() const { return folder_; }
    [[nodiscard]] std::string text() const { return folder_.string(); }

  private:
    [[nodiscard]] std::filesystem::path place_for(const std::string& name) const;
    std::filesystem::path folder_;
};

std::string bytes_of(const std::filesystem::path& file);

}  // namespace stripbook::test
