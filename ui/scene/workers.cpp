// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/workers.hpp"

#include <algorithm>

namespace bellmouth::ui::scene {

Workers::Workers(unsigned threads) {
  const unsigned wanted = threads > 0 ? threads : std::max(1U, std::thread::hardware_concurrency());
  for (unsigned i = 1; i < wanted; ++i)
    threads_.emplace_back([this] { wait_for_work(); });
}

Workers::~Workers() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  work_.notify_all();
  for (std::thread& thread : threads_)
    thread.join();
}

void Workers::run(std::size_t count, const std::function<void(std::size_t)>& job) {
  {
    const std::lock_guard lock(mutex_);
    job_ = &job;
    count_ = count;
    next_ = 0;
    busy_ = threads_.size();
    ++round_;
  }
  work_.notify_all();
  take_jobs();
  std::unique_lock lock(mutex_);
  done_.wait(lock, [this] { return busy_ == 0; });
  job_ = nullptr;
}

void Workers::take_jobs() {
  for (std::size_t number = next_++; number < count_; number = next_++)
    (*job_)(number);
}

void Workers::wait_for_work() {
  std::size_t seen = 0;
  std::unique_lock lock(mutex_);
  for (;;) {
    work_.wait(lock, [&] { return ending_ || round_ != seen; });
    if (ending_)
      return;
    seen = round_;
    lock.unlock();
    take_jobs();
    lock.lock();
    if (--busy_ == 0)
      done_.notify_one();
  }
}

} // namespace bellmouth::ui::scene
