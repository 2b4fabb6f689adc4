// SPDX-License-Identifier: GPL-3.0-or-later
// Work split over processors. Each piece is worked by one thread, so no result depends on their number.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace seamwright::machine {

/// Calls work(first, last) for stretches that cover 0..sites, one per processor (at most 16); in one piece
/// when this thread already works for another split. Rethrows the first exception.
void over_sites(Eigen::Index sites, const std::function<void(Eigen::Index, Eigen::Index)>& work);

/// Calls work(i) for 0..tasks in their order, each as soon as a thread is free; threads 0: one per processor;
/// one after the other when this thread already works for another split. Rethrows the first exception, after
/// which no further task is begun.
void over_tasks(std::size_t tasks, std::size_t threads, const std::function<void(std::size_t)>& work);

/// Keeps what is freed with the process, for the first line of a program: a rating takes and frees large
/// matrices over and over, and fetching their pages anew is a third of the time of the first one.
void keep_freed_memory();

}  // namespace seamwright::machine
