namespace Outcomes.Statistics;

/// <summary>Poisson counts by inversion of a table of the distribution.</summary>
internal sealed class PoissonDraw
{
    private readonly double[] _cumulative;

    /// <param name="mean">Above 0 and below 700, where e^−mean is still a number.</param>
    public PoissonDraw(double mean)
    {
        if (!(mean is > 0 and < 700))
            throw new ArgumentOutOfRangeException(nameof(mean), mean, "a mean above 0 and below 700");
        List<double> cumulative = [];
        var term = Math.Exp(-mean);
        for (var sum = 0.0; cumulative.Count <= mean || term > 1e-17; term *= mean / cumulative.Count)
            cumulative.Add(sum += term);
        _cumulative = [.. cumulative];
    }

    /// <summary>The count at this uniform number, 0 ≤ u &lt; 1.</summary>
    public int Next(double uniform)
    {
        // Binary search: the first count whose cumulative probability is above u.
        var index = Array.BinarySearch(_cumulative, uniform);
        return Math.Min(index < 0 ? ~index : index + 1, _cumulative.Length - 1);
    }
}
