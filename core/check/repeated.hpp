// SPDX-License-Identifier: GPL-3.0-or-later
// The same thing at several places of an option, told once: at the first of them.
#pragma once

#include "context.hpp"

#include <spdlog/fmt/fmt.h>

#include <cstddef>
#include <string>
#include <string_view>

namespace bellmouth::check {

class Repeated {
public:
  void at(const RunView& run, const joint::Joint& joint) {
    if (count_++ == 0) {
      run_ = &run;
      joint_ = &joint;
    }
  }
  void at(const RunView& run, std::size_t row) {
    if (count_++ == 0) {
      run_ = &run;
      row_ = row;
    }
  }

  /// Nothing where there was none. The message takes "{}" for ", the first of 4 joints" or nothing.
  void tell(Context& c, Id id, Severity severity, std::string_view message, std::string reason,
            std::string_view many) const {
    if (count_ == 0)
      return;
    const std::string others = count_ == 1 ? "" : fmt::format(", the first of {} {}", count_, many);
    std::string text = fmt::format(fmt::runtime(message), others);
    if (joint_ != nullptr)
      c.add_at_joint(id, severity, *run_, *joint_, std::move(text), std::move(reason));
    else
      c.add_at_row(id, severity, *run_, row_, std::move(text), std::move(reason));
  }

private:
  const RunView* run_ = nullptr;
  const joint::Joint* joint_ = nullptr;
  std::size_t row_ = 0;
  int count_ = 0;
};

} // namespace bellmouth::check
