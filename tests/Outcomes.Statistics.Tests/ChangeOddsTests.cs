using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangeOddsTests
{
    private static readonly int[] Eligible = [9, 11, 10, 8, 12, 10, 9, 11, 10, 10, 12, 8, 10, 9, 11, 10, 12, 9, 10, 11, 0, 10];
    private static readonly int[] Bad = [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1, 2, 1, 3, 4, 3, 3, 4, 3, 0, 4];

    private static Count[] Months(int from, int to, bool metIsBad = true) =>
        [.. Enumerable.Range(from, to - from).Select(i => new Count(metIsBad ? Bad[i] : Eligible[i] - Bad[i], Eligible[i], 0))];

    [Fact]
    public void The_golden_series_gives_the_golden_odds()
    {
        // An independent program in Python with SciPy's gammaln, from the same formulas, to four decimals.
        double[] expected = [1.7553, 1.5997, 1.9328, 2.8959, 3.0897, 3.5714, 4.3575, 4.5093, 4.5203, 5.1954];
        var reading = ChangeOdds.Read(Months(0, 12), Months(12, 22), Better.Down, new() { Pace = Pace.Faster });
        Assert.All(reading.Months.Zip(expected), pair => Assert.Equal(pair.Second, pair.First.LogOdds!.Value, 5.1e-5));
        Assert.Equal(6.3291, reading.Limit!.Value, 5.1e-5);
        Assert.Equal(ChangeState.NoSignOfChange, reading.State);
        Assert.Null(reading.Change);
    }
}
