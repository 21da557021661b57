#include <bellmouth/loss.hpp>
