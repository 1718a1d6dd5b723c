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
        Ratio = RateRatio.Exact((after.Met, after.Eligible), (before.Met, before.Eligible)),
    };

    [Theory]
    [InlineData(4, 4, "cannot be told apart")]
    [InlineData(2, 30, "More often than in the baseline")]
    [InlineData(30, 2, "Less often than in the baseline")]
    public void What_is_said_follows_the_interval_that_knows_the_baseline_only_by_its_events(long before, long after, string said) =>
        Assert.Contains(said, RareWording.Said(Events(new(before, 200, 0), new(after, 200, 0))), StringComparison.Ordinal);

    [Fact]
    public void Without_an_event_in_the_baseline_nothing_is_expected_and_no_ratio_is_printed()
    {
        var words = RareWording.Expected(Events(new(0, 200, 0), new(2, 200, 0)));
        Assert.Contains("none expected", words, StringComparison.Ordinal);
        Assert.DoesNotContain("ratio", words, StringComparison.Ordinal);
    }
}
