using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>One seed for each cell of the study, so that cells are independent and any one can be run alone.</summary>
internal static class Seeds
{
    public static ulong Of(ulong seed, params ReadOnlySpan<double> keys)
    {
        var state = seed;
        foreach (var key in keys)
        {
            state ^= (ulong)BitConverter.DoubleToInt64Bits(key);
            state = SplitMix64.Next(ref state);
        }
        return state;
    }
}
