using CsCheck;
using Outcomes.Records;

namespace Outcomes.Tests;

public class MonthTests
{
    private static readonly Gen<Month> AnyMonth = Gen.Select(Gen.Int[1, 9999], Gen.Int[1, 12], (year, number) => new Month(year, number));

    [Theory]
    [InlineData("2026-03", 2026, 3)]
    [InlineData("0001-01", 1, 1)]
    [InlineData("9999-12", 9999, 12)]
    public void A_month_is_read_as_ISO_8601_writes_it(string text, int year, int number)
    {
        Assert.True(Month.TryParse(text, out var month));
        Assert.Equal((year, number), (month.Year, month.Number));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("2026-3")]
    [InlineData("2026-13")]
    [InlineData("2026-00")]
    [InlineData("0000-01")]
    [InlineData("2026/03")]
    [InlineData("2026-03-01")]
    [InlineData(" 2026-03")]
    [InlineData("+026-03")]
    [InlineData("2026- 3")]
    [InlineData("２０２６-03")]
    public void Anything_else_is_no_month(string? text) => Assert.False(Month.TryParse(text, out _));

    [Theory]
    [InlineData(0, 1)]
    [InlineData(10000, 1)]
    [InlineData(2026, 0)]
    [InlineData(2026, 13)]
    public void A_month_that_does_not_exist_cannot_be_made(int year, int number) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new Month(year, number));

    [Fact]
    public void What_is_written_reads_back() =>
        AnyMonth.Sample(month => Month.TryParse(month.ToString(), out var read) && read == month);

    /// <summary>The calendar of the platform (DateOnly.AddMonths) is the reference.</summary>
    [Fact]
    public void Arithmetic_agrees_with_the_platforms_calendar() =>
        Gen.Select(Gen.Int[1000, 3000], Gen.Int[1, 12], Gen.Int[-5000, 5000]).Sample((year, number, step) =>
        {
            var moved = new Month(year, number).AddMonths(step);
            var expected = new DateOnly(year, number, 1).AddMonths(step);
            return moved.FirstDay == expected && moved == Month.Of(expected) && moved.MonthsSince(new Month(year, number)) == step;
        });

    [Fact]
    public void The_last_day_is_the_day_before_the_next_month() =>
        AnyMonth.Where(month => month < new Month(9999, 12)).Sample(month => month.LastDay.AddDays(1) == month.AddMonths(1).FirstDay);

    [Fact]
    public void The_last_month_of_all_has_a_last_day() => Assert.Equal(DateOnly.MaxValue, new Month(9999, 12).LastDay);

    [Fact]
    public void Order_is_that_of_the_texts() =>
        Gen.Select(AnyMonth, AnyMonth).Sample((one, other) =>
        {
            var texts = Math.Sign(string.CompareOrdinal(one.ToString(), other.ToString()));
            return Math.Sign(one.CompareTo(other)) == texts && one < other == texts < 0 && one > other == texts > 0
                && one <= other == texts <= 0 && one >= other == texts >= 0;
        });

    [Fact]
    public void A_run_of_months_holds_every_month_once()
    {
        Assert.Equal(["2025-11", "2025-12", "2026-01"], new Month(2025, 11).To(new Month(2026, 1)).Select(month => month.ToString()));
        Assert.Empty(new Month(2026, 2).To(new Month(2026, 1)));
        Gen.Select(Gen.Int[2000, 2050], Gen.Int[1, 12], Gen.Int[0, 300]).Sample((year, number, length) =>
            new Month(year, number).To(new Month(year, number).AddMonths(length)).Count() == length + 1);
    }
}
