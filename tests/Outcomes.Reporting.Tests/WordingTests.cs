using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting;

public class WordingTests
{
    [Theory]
    [InlineData(0.0, 100, "0.0 %")]
    [InlineData(1.0, 100, "100.0 %")]
    [InlineData(0.0004, 100, "<0.1 %")]
    [InlineData(0.9996, 100, ">99.9 %")]
    [InlineData(0.842, 100, "84.2 %")]
    [InlineData(0.0022, 1000, "2.2 per 1,000")]
    [InlineData(0.99999, 1000, ">999.9 per 1,000")]
    public void A_proportion_above_none_never_reads_none_nor_one_below_all_all(double value, int per, string words) =>
        Assert.Equal(words, Plain(Wording.Rate(value, per)));

    [Theory]
    [InlineData(.112, "+11.2")]
    [InlineData(-.004, "−0.4")]
    [InlineData(-.0004, "0.0")]
    [InlineData(.0004, "0.0")]
    public void A_difference_has_a_sign_unless_nothing_is_left_after_rounding(double difference, string points) =>
        Assert.Equal(points, ChangeWording.Points(difference));

    [Fact]
    public void Figures_do_not_break_across_lines()
    {
        Assert.DoesNotContain(' ', Wording.Rate(0.5, 100));
        Assert.DoesNotContain(' ', Wording.Rate(0.5, 1000));
        Assert.DoesNotContain(' ', Wording.Range(0.1, 0.2, 100));
        Assert.DoesNotContain(' ', Wording.Fraction(new Count(1020, 1200, 3)));
    }

    [Fact]
    public void Words_for_counts_months_and_dates()
    {
        Assert.Equal("1,020/1,200", Wording.Fraction(new Count(1020, 1200, 3)));
        Assert.Equal("1 record", Plain(Wording.Some(1, "record")));
        Assert.Equal("0 records", Plain(Wording.Some(0, "record")));
        Assert.Equal("April 2025 to March 2026", Plain(Wording.Span(new Month(2025, 4), new Month(2026, 3))));
        Assert.Equal("March 2026", Plain(Wording.Span(new Month(2026, 3), new Month(2026, 3))));
        Assert.Equal("9 April 2026", Plain(Wording.Date(new DateOnly(2026, 4, 9))));
        Assert.Equal("2026 Q1", Plain(Wording.Point(PointSpan.Quarter, new Month(2026, 1))));
        Assert.Equal("2025 Q4", Plain(Wording.Point(PointSpan.Quarter, new Month(2025, 12))));
    }

    [Fact]
    public void A_run_that_met_the_rule_is_told_with_its_chance_and_as_no_verdict()
    {
        var model = Samples.Model();
        var chart = model.Measures[0].RunChart!;
        Assert.Equal("A run of 15 points above the median (September 2024 to November 2025) is no verdict; "
            + "4.7 of 100 stable charts show as "
            + "much.", Plain(RunChartWording.Note(chart, model.First)));
        Assert.Equal("12 crossings of the median, where at least 13 are usual, are no verdict; 4.7 of 100 stable charts show as much.",
            Plain(RunChartWording.Note(chart with { LongestRun = 3 }, model.First)));
        Assert.Equal("", RunChartWording.Note(chart with { LongestRun = 3, Crossings = 20 }, model.First));
        Assert.Equal("Drawn by quarter: months have too few cases.",
            RunChartWording.Note(chart with { LongestRun = 3, Crossings = 20, Span = PointSpan.Quarter }, model.First));
        Assert.Equal("run of 15 above the median: no verdict", RunChartWording.Run(chart));
    }

    [Theory]
    [InlineData(Untested.FewPoints)]
    [InlineData(Untested.MedianAtEdge)]
    [InlineData(Untested.NoBaseline)]
    [InlineData(Untested.FewCases)]
    public void Of_a_chart_that_the_rule_does_not_hold_for_nothing_is_said(Untested why) =>
        Assert.Equal("", RunChartWording.Note(Samples.Model().Measures[0].RunChart! with { Untested = why }, Samples.First));

    private static string Plain(string text) => text.Replace('\u00a0', ' ');

    [Theory]
    [InlineData(112, 0, "112")]
    [InlineData(93.5, 0, "93.5")]
    [InlineData(1.4, 1, "1.4")]
    [InlineData(0.2, 2, "0.20")]
    [InlineData(1084.125, 2, "1,084.13")]
    public void A_quantity_counted_with_two_places_or_more_is_printed_with_all_of_them(double value, int decimals, string printed) =>
        Assert.Equal(printed, Wording.Quantity(value, decimals));
}
