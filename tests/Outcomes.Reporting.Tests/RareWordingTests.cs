using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting;

public sealed class RareWordingTests
{
    private static RareEvents Events(Count before, Count after) => new()
    {
        Measure = Samples.Definition("arrest", "Cardiac arrest", Direction.Down),
        From = new(2024, 1),
        To = new(2025, 12),
        Count = before + after,
        Baseline = (new(2024, 1), new(2024, 12)),
        BaselineCount = before,
        AfterCount = after,
        AfterPoint = before.Met == 0 ? null
            : CumulativePoisson.Accumulate([after.Met], [after.Eligible * (before.Met / (double)before.Eligible)])[0],
    };

    [Theory]
    [InlineData(4, 4)]
    [InlineData(2, 30)]
    [InlineData(30, 2)]
    public void Expected_numbers_are_told_and_no_comparison_is_made(long before, long after)
    {
        var words = RareWording.Expected(Events(new(before, 200, 0), new(after, 200, 0)));
        Assert.Equal($"{after} in 200 cases; {before} expected", words.Replace('\u00a0', ' '));
    }

    [Fact]
    public void None_seen_has_its_bound_and_is_not_called_impossible() => Assert.Equal(
        // 1 - 0.05^(1/200), the one-sided bound of Clopper and Pearson (1934).
        "None in 200 cases: at most 1.5 % (one-sided exact 95 % bound). Zero observed does not mean zero risk.",
        RareWording.Bound(Events(new(0, 100, 0), new(0, 100, 0)) with { UpperWhenNone = ClopperPearson.UpperWhenNone(200) })
            .Replace('\u00a0', ' '));

    [Fact]
    public void Without_an_event_in_the_baseline_nothing_is_expected_and_no_ratio_is_printed()
    {
        var words = RareWording.Expected(Events(new(0, 200, 0), new(2, 200, 0)));
        Assert.Equal("2 in 200 cases; none in 200 baseline cases, so none expected", words.Replace('\u00a0', ' '));
    }
}
