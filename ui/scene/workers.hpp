// SPDX-License-Identifier: GPL-3.0-or-later
// A few threads that share out numbered jobs.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstddef>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace bellmouth::ui::scene {

/// Threads that wait for work for as long as this lives. The caller works along, so one thread in all means
/// none besides.
class Workers {
public:
  /// With 0, as many as the machine has cores.
  explicit Workers(unsigned threads);
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  /// Calls `job` once with each number below `count`, from all threads in no order, and comes back when all
  /// are done. The job must not throw.
  void run(std::size_t count, const std::function<void(std::size_t)>& job);

private:
  void wait_for_work();
  void take_jobs();

  std::mutex mutex_;
  std::condition_variable work_, done_;
  const std::function<void(std::size_t)>* job_ = nullptr;
  std::size_t count_ = 0;
  std::atomic<std::size_t> next_ = 0;
  std::size_t round_ = 0, busy_ = 0;
  bool ending_ = false;
  std::vector<std::thread> threads_;
};

} // namespace bellmouth::ui::scene
