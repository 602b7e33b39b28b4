// SHA-256 (FIPS 180-4), fed piece by piece.
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace stripbook::dump {

class Sha256 {
  public:
    Sha256();
    Sha256(Sha256&&) noexcept;
    Sha256& operator=(Sha256&&) noexcept;
    ~Sha256();

    void update(std::string_view bytes);
    /// 64 hexadecimal digits, lower case. Ends the sum: nothing can be added afterwards.
    std::string hex();

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace stripbook::dump
