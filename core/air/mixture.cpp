#include <bellmouth/air.hpp>
