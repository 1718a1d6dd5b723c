using System.Globalization;
using System.Text;
using CsCheck;
using Outcomes.Ingestion.Parsing;

namespace Outcomes.Tests.Ingestion;

public class DatePatternTests
{
    [Theory]
    [InlineData("yyyy-MM-dd", "2024-02-29", "2024-02-29")]
    [InlineData("dd/MM/yyyy", "01/02/2024", "2024-02-01")]
    [InlineData("MM/dd/yyyy", "01/02/2024", "2024-01-02")]
    [InlineData("d/M/yyyy", "1/12/2024", "2024-12-01")]
    [InlineData("dd MMM yyyy", "05 Mar 2024", "2024-03-05")]
    [InlineData("dd-MMM-yyyy", "05-SEP-2024", "2024-09-05")]
    [InlineData("dd/MM/yyyy HH:mm", "31/12/2024 23:59", "2024-12-31")]
    [InlineData("yyyyMMdd", "20240131", "2024-01-31")]
    public void A_date_is_read_as_declared(string pattern, string cell, string date)
    {
        Assert.True(DatePattern.ForDates(pattern)!.TryDate(Encoding.UTF8.GetBytes(cell), out var day));
        Assert.Equal(DateOnly.ParseExact(date, "yyyy-MM-dd", CultureInfo.InvariantCulture).DayNumber, day);
    }

    // Texts that other readers accept: a day that does not exist, one-digit parts, text behind the date, the other order, a two-digit year.
    [Theory]
    [InlineData("yyyy-MM-dd", "2024-02-30")]
    [InlineData("yyyy-MM-dd", "2023-02-29")]
    [InlineData("yyyy-MM-dd", "2024-2-3")]
    [InlineData("yyyy-MM-dd", "2024-02-03 99")]
    [InlineData("yyyy-MM-dd", "2024-02-03junk")]
    [InlineData("yyyy-MM-dd", "31/12/2024")]
    [InlineData("dd/MM/yyyy", "13/13/2024")]
    [InlineData("dd/MM/yyyy", "1/2/2024")]
    [InlineData("dd/MM/yyyy", "01/02/24")]
    [InlineData("dd/MM/yyyy", "")]
    [InlineData("dd/MM/yyyy", "-1/02/2024")]
    [InlineData("dd/MM/yyyy HH:mm", "31/12/2024 24:00")]
    [InlineData("dd/MM/yyyy HH:mm", "31/12/2024 12:60")]
    public void No_date(string pattern, string cell) =>
        Assert.False(DatePattern.ForDates(pattern)!.TryDate(Encoding.UTF8.GetBytes(cell), out _));

    [Theory]
    [InlineData("dd/MM/yy")]
    [InlineData("MM/yyyy")]
    [InlineData("dd/MM")]
    [InlineData("dd/MM/yyyy dd")]
    [InlineData("quarter")]
    public void A_pattern_without_day_month_and_four_digit_year_is_none(string pattern) => Assert.Null(DatePattern.ForDates(pattern));

    [Theory]
    [InlineData("00:00", 0)]
    [InlineData("23:59", 1439)]
    [InlineData("24:00", null)]
    [InlineData("12:60", null)]
    [InlineData("1:05", null)]
    public void A_time_is_minutes_since_midnight(string cell, int? minutes)
    {
        var read = DatePattern.ForTimes("HH:mm")!.TryMinutes(Encoding.UTF8.GetBytes(cell), out var value);
        Assert.Equal(minutes, read ? value : null);
    }

    [Fact]
    public void Every_day_comes_back_from_the_framework_s_own_text() =>
        Gen.Int[DateOnly.MinValue.DayNumber, DateOnly.MaxValue.DayNumber].Sample(day =>
        {
            foreach (var pattern in (string[])["yyyy-MM-dd", "dd/MM/yyyy", "M/d/yyyy", "dd MMM yyyy"])
            {
                var text = DateOnly.FromDayNumber(day).ToString(pattern, CultureInfo.InvariantCulture);
                if (!DatePattern.ForDates(pattern)!.TryDate(Encoding.UTF8.GetBytes(text), out var read) || read != day) return false;
            }

            return true;
        });
}
