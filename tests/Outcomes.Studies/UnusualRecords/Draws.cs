using Outcomes.Statistics;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>The study's draws, from one seed.</summary>
internal sealed class Draws(ulong seed)
{
    public Func<double> Uniform { get; } = SplitMix64.Uniform(seed);

    /// <summary>Standard normal (Box and Muller 1958).</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    public int Below(int count) => (int)(Uniform() * count);

    /// <summary>The items in an order by chance.</summary>
    public T[] Shuffle<T>(IEnumerable<T> items)
    {
        T[] order = [.. items];
        for (var i = order.Length - 1; i > 0; i--)
        {
            var at = Below(i + 1);
            (order[i], order[at]) = (order[at], order[i]);
        }

        return order;
    }
}
