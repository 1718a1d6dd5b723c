using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting.Model;

/// <summary>Numbers worked by hand from the rules: a rise of more than 30 points, or above 20 % ever since.</summary>
public class DataQuestionTests
{
    private static readonly Month January = new(2026, 1);

    [Theory]
    [InlineData("0 0 50 50", 2, false)] // a rise that stayed
    [InlineData("25 25 60 60", 2, false)] // a rise from a bad state, later than the state
    [InlineData("10 25 25 30", 1, false)] // above 20 % ever since, without a rise
    [InlineData("40 40 40 40", 0, true)]
    [InlineData("0 90 0 0", null, false)] // it did not stay
    [InlineData("0 60 10 60", 3, false)] // the last time it went up
    [InlineData("0 60 10 25", null, false)] // 25 of 100 after 70 of 300 is no news
    [InlineData("20 20 20 20", null, false)]
    [InlineData("0 0 50 -", 2, false)] // a month of four says nothing
    public void Since_when_a_field_is_missing(string percent, int? since, bool fromTheStart)
    {
        var months = percent.Split(' ').Select((text, i) => text == "-"
            ? new MonthKnown(January.AddMonths(i), 4, 4)
            : new MonthKnown(January.AddMonths(i), 100 - int.Parse(text, System.Globalization.CultureInfo.InvariantCulture), 100));
        Assert.Equal(since is { } index ? new MissingSince(January.AddMonths(index), fromTheStart) : null, MissingSince.Of(months));
    }

    [Theory]
    [InlineData(6, 24, false)] // 6 of 24 after 20 of 200: p = 0.04 (SciPy 1.10), the story of one bad month
    [InlineData(12, 24, true)] // 12 of 24: p = 0.000008
    public void One_month_is_told_as_a_time_since_only_beyond_chance(int blank, int of, bool told)
    {
        MonthKnown[] months =
        [
            .. Enumerable.Range(0, 10).Select(i => new MonthKnown(January.AddMonths(i), 18, 20)), new(January.AddMonths(10), of - blank, of)
        ];
        Assert.Equal(told ? new MissingSince(January.AddMonths(10), false) : null, MissingSince.Of(months));
    }

    [Fact]
    public void The_worst_stands_first_and_small_gaps_are_left_out()
    {
        DataQuestion[] questions =
        [
            Of("small", 5, null), Of("half", 50, null), Of("needed", 30, null) with { Measures = ["First pass"] },
            Of("new", 4, new(January, false)), Of("absent", 0, null) with { Columns = [] },
        ];
        Assert.Equal(["needed", "absent", "half", "new"], DataQuestion.WorstFirst(questions).Select(question => question.Field));
    }

    [Fact]
    public void Each_state_asks_for_something_else()
    {
        Assert.Contains("Ask for this column", (Of("f", 0, null) with { Columns = [] }).Ask(), StringComparison.Ordinal);
        Assert.Contains("The column is empty", Of("f", 100, new(January, true)).Ask(), StringComparison.Ordinal);
        Assert.Contains("what changed", Of("f", 60, new(January, false)).Ask(), StringComparison.Ordinal);
        Assert.Contains("31 cells hold something that is no value", (Of("f", 60, new(January, false)) with { Invalid = 31 }).Ask(),
            StringComparison.Ordinal);
        Assert.Contains("leave it blank", Of("f", 10, null).Ask(), StringComparison.Ordinal);
    }

    private static DataQuestion Of(string field, long missing, MissingSince? since) =>
        new(field, field, missing, 100, since, ["column (file.csv)"], 0, []);
}
