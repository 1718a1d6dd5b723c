using System.Collections.Immutable;


namespace Outcomes.Statistics;

/// <summary>Intervals of equal width for several shares of one whole that hold all at once.</summary>
public static class SisonGlaz
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "sison_glaz";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Sison CP, Glaz J. J Am Stat Assoc 1995;90:366-369";

    /// <summary>
    /// x/n − c/n to x/n + (c + 2γ)/n, cut to 0 and 1: c the last whole number before the chance ν(c) that every count lies within
    /// c of the one seen passes the level, γ = (level − ν(c)) / (ν(c + 1) − ν(c)). ν is that of Poisson counts cut to the interval, given their
    /// sum, by an Edgeworth series.
    /// </summary>
    /// <param name="counts">Records in each category, at least two categories and at least one record. Each record is in exactly one.</param>
    /// <param name="level">Level for all intervals together, above 0 and below 1.</param>
    /// <returns>One interval a category in the given order, fractions from 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records; made for seven and more categories, none of them nearly empty. The width does not shrink for rare
    /// categories, so for a share near 0 <see cref="Goodman"/> is the better choice. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">
    /// A count is negative, there are too few or more than a million records, all are in one category (the method then has no width, which
    /// would mislead), or the level is out of range.
    /// </exception>
    public static ImmutableArray<Bounds> Intervals(IReadOnlyList<long> counts, double level = 0.95)
    {
        var total = Requires.Categories(counts);
        if (total > 1_000_000)
            throw new ArgumentOutOfRangeException(nameof(counts), total, "for more than a million records use Goodman's intervals");
        if (counts.Max() == total)
            throw new ArgumentOutOfRangeException(nameof(counts), total, "with every record in one category this interval has no width: use Goodman's");
        Requires.Level(level);
        double n = total;
        // Adding up Poisson(x) probabilities outwards serves every width in turn.
        var sums = counts.Select(count => new TruncatedPoisson(count, total)).ToArray();
        var before = 0.0;
        for (var c = 0; c <= total; c++)
        {
            foreach (var sum in c == 0 ? [] : sums)
                sum.Widen();
            var chance = Chance(sums, total);
            // The series may stay below the level in tiny samples: then everything is possible, which the widest interval says.
            if (chance > level || c == total)
            {
                var gamma = c == 0 ? 0 : Math.Clamp((level - before) / (chance - before), 0, 1);
                var width = Math.Max(c - 1, 0);
                return [.. counts.Select(x => new Bounds(Math.Max(0, (x - width) / n), Math.Min(1, (x + width + (2 * gamma)) / n)))];
            }
            before = chance;
        }
        throw new InvalidOperationException("the widest intervals hold every count");
    }

    /// <summary>The chance that all categories lie within their intervals: the cut Poisson counts' product times the chance that they add up to n, over that of a Poisson sum.</summary>
    private static double Chance(TruncatedPoisson[] sums, long n)
    {
        var (product, mean, m2, m3, m4) = (0.0, 0.0, 0.0, 0.0, 0.0);
        foreach (var sum in sums)
        {
            var (probability, first, second, third, fourth) = sum.Central();
            product += Math.Log(probability);
            mean += first;
            m2 += second;
            m3 += third;
            m4 += fourth - (3 * second * second);
        }
        // Of width 0 the cut counts add up to n for sure.
        if (m2 <= 0)
            return Math.Exp(product - BinomialTerm.PoissonLog(n, n));
        var skew = m3 / Math.Pow(m2, 1.5);
        var tails = m4 / (m2 * m2);
        var z = (n - mean) / Math.Sqrt(m2);
        var (z2, z4) = (z * z, z * z * z * z);
        var series = 1 + ((z2 * z) - (3 * z)) * skew / 6 + (z4 - (6 * z2) + 3) * tails / 24
            + ((z4 * z2) - (15 * z4) + (45 * z2) - 15) * skew * skew / 72;
        var density = Math.Exp(-z2 / 2) / Math.Sqrt(2 * Math.PI) * series / Math.Sqrt(m2);
        return density * Math.Exp(product - BinomialTerm.PoissonLog(n, n));
    }
}
