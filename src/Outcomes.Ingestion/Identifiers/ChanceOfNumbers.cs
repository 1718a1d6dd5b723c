namespace Outcomes.Ingestion.Identifiers;

/// <summary>Whether more ten-digit values pass the check than chance allows.</summary>
public static class ChanceOfNumbers
{
    /// <summary>Fewer different values say nothing.</summary>
    public const int Fewest = 5;

    /// <summary>The share that must pass.</summary>
    public const double Share = 0.30;

    /// <summary>The chance by which a clean column of random numbers may be refused.</summary>
    public const double Chance = 0.001;

    // Of eleven remainders one gives no check digit and each other gives one of ten digits: 10/11 of 1/10.
    private const double Passes = 1.0 / 11;

    // From here on a share of 30 % has a chance far below one in a million million.
    private const int Many = 200;

    /// <summary>
    /// True when at least five different values are there, more than 30 % pass, and random digits would do as much less often
    /// than once in 1,000.
    /// </summary>
    public static bool IsExceeded(int values, int passing) => IsExceeded(values, passing, Passes, Chance);

    /// <summary>The same where one value passes with another chance, and the whole may happen less or more often.</summary>
    public static bool IsExceeded(int values, int passing, double passes, double chance) =>
        values >= Fewest && passing > Share * values && (values >= Many || AtLeast(passing, values, passes) < chance);

    /// <summary>
    /// P(X ≥ <paramref name="passing"/>) for X binomial with <paramref name="values"/> (at most 200) draws at
    /// <paramref name="passes"/> each, 1/11 unless given.
    /// </summary>
    public static double AtLeast(int passing, int values, double passes = Passes)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(values, Many);
        var term = Math.Pow(1 - passes, values);
        var sum = 0.0;
        for (var k = 0; k <= values; k++)
        {
            if (k >= passing) sum += term;
            term *= (values - k) / (k + 1.0) * passes / (1 - passes);
        }

        return Math.Min(1, sum);
    }
}
