// SPDX-License-Identifier: GPL-3.0-or-later
// An unchanging value that many versions of a build may share.
#pragma once

#include <memory>
#include <utility>

namespace bellmouth::build {

/// Holds a value that is never changed in place: copies are cheap and "is it the same?" is quick. Compares by
/// value, but looks at the address first.
template <class T> class Shared {
public:
  Shared() : value_(std::make_shared<const T>()) {}
  Shared(T value)
      : value_(std::make_shared<const T>(std::move(value))) {} // NOLINT(google-explicit-constructor)

  [[nodiscard]] const T& operator*() const { return *value_; }
  [[nodiscard]] const T* operator->() const { return value_.get(); }

  friend bool operator==(const Shared& a, const Shared& b) { return a.value_ == b.value_ || *a == *b; }

private:
  std::shared_ptr<const T> value_;
};

} // namespace bellmouth::build
