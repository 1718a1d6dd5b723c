namespace Outcomes.Statistics;

/// <summary>
/// A small seeded generator, so that a simulated chance is the same on every machine and in every version of .NET.
/// </summary>
/// <remarks>Not for secrets. Source: Steele GL, Lea D, Flood CH. OOPSLA 2014, doi 10.1145/2660193.2660195.</remarks>
public static class SplitMix64
{
    /// <summary>
    /// A source of uniform numbers, 0 ≤ u &lt; 1, multiples of 2⁻⁵³; the same seed gives the same numbers. Not for use by two threads at
    /// once.
    /// </summary>
    public static Func<double> Uniform(ulong seed) => () => (Next(ref seed) >> 11) * (1.0 / (1UL << 53));

    /// <summary>The next 64 bits; <paramref name="state"/> moves on.</summary>
    public static ulong Next(ref ulong state)
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15;
            var z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }
}
