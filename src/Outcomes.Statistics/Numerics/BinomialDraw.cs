namespace Outcomes.Statistics;

/// <summary>Binomial proportions by inversion of a table of the distribution, without the tails that no 53-bit number reaches.</summary>
internal sealed class BinomialDraw
{
    private const int Guides = 256;
    private const double Negligible = 1e-18;
    private readonly double[] _values;
    private readonly double[] _cumulative;

    /// <summary>Where the search for a uniform number in each 1/256 may start.</summary>
    private readonly int[] _guide = new int[Guides];

    public BinomialDraw(long eligible, double rate)
    {
        var mode = (long)Math.Clamp(Math.Floor((eligible + 1) * rate), 0, eligible);
        var odds = rate / (1 - rate);
        // Ratios of neighbouring terms, outwards from the mode, whose term is set to 1: no factorial overflows.
        List<double> below = [], above = [1];
        if (rate is > 0 and < 1)
        {
            for (long k = mode; k > 0 && Last(below) > Negligible; k--)
                below.Add(Last(below) * k / ((eligible - k + 1) * odds));
            for (long k = mode; k < eligible && above[^1] > Negligible; k++)
                above.Add(above[^1] * (eligible - k) * odds / (k + 1));
        }
        below.Reverse();
        _cumulative = [.. below, .. above];
        _values = [.. Enumerable.Range(0, _cumulative.Length).Select(i => (mode - below.Count + i) / (double)eligible)];
        var sum = _cumulative.Sum();
        var running = 0.0;
        for (var i = 0; i < _cumulative.Length; i++)
            _cumulative[i] = (running += _cumulative[i]) / sum;
        for (int guide = 1, i = 0; guide < Guides; guide++)
            _guide[guide] = i = Find(i, (double)guide / Guides);
    }

    /// <summary>The proportion at this uniform number, 0 ≤ u &lt; 1.</summary>
    public double Next(double uniform) => _values[Find(_guide[(int)(uniform * Guides)], uniform)];

    private int Find(int from, double uniform)
    {
        while (from < _cumulative.Length - 1 && _cumulative[from] <= uniform)
            from++;
        return from;
    }

    private static double Last(List<double> terms) => terms.Count == 0 ? 1 : terms[^1];
}
