using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

public sealed class ChangeSegmentTests
{
    [Fact]
    public void A_regression_without_an_answer_says_so_on_the_page_and_has_empty_cells()
    {
        var all = Enumerable.Repeat(new Count(9, 9, 0), 9);
        var segments = SegmentedRegression.Fit(new Series(2024, 1, [.. Enumerable.Repeat(new Count(4, 9, 0), 9), .. all]), 9);
        var change = new DeclaredChange(new DateOnly(2024, 10, 1), "Invented", ["x"], Direction.Up, false, "Invented");
        var each = new ChangeEvaluation(change, Samples.Definition("x", "X", Direction.Up), EvaluationState.Unclear,
            (new(2024, 1), new(2024, 9)), (new(2024, 10), new(2025, 6)), new Count(36, 81, 0), new Count(81, 81, 0), new(2025, 6),
            new(0.5, -0.1, 0.9, new(1, 17), 0.95), segments);
        Assert.Contains(SegmentedDoubt.NoAnswer, segments.Doubts);
        var page = Appendix.Html(Samples.Model() with { Changes = [each] }, []);
        Assert.Contains("no answer", page, StringComparison.Ordinal);
        Assert.Contains(ChartCautions.Say(SegmentedDoubt.NoAnswer), page, StringComparison.Ordinal);
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        ChangesTable.Write(_ => file, [each]);
        var level = File.ReadLines(file).Single(line => line.Contains(",level,", StringComparison.Ordinal));
        File.Delete(file);
        Assert.EndsWith(",level,2024-01/2025-06,,,,,,,,,few_events no_answer", level, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1.5, "1.50")]
    [InlineData(0.001, "<0.01")]
    [InlineData(1e30, "above 1,000")]
    [InlineData(double.PositiveInfinity, "above 1,000")]
    public void A_ratio_reads_as_far_as_it_means_anything(double value, string words) =>
        Assert.StartsWith(words + " (", Wording.Ratio(value, 0, value), StringComparison.Ordinal);
}
