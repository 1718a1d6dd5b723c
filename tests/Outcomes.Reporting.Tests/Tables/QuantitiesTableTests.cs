using Outcomes.Analysis;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

public sealed class QuantitiesTableTests
{
    [Fact]
    public void The_median_of_ten_values_lies_between_the_second_and_the_ninth_and_few_values_leave_quartiles_open()
    {
        // Ten values: the 95 % interval of the median is from the 2nd to the 9th, coverage 1 − 2 (1 + 10)/1024 = 97.9 % (Conover WJ.
        // Practical Nonparametric Statistics, 3rd ed. 1999, section 3.2; binomial tails by hand). P(none of ten below the lower quartile) =
        // 0.75^10 = 5.6 %: no lower end.
        var model = Samples.Model();
        var report = model.Measures.First(measure => measure.YearQuantity is not null) with
        {
            ThisMonthQuantity = null,
            YearQuantity = QuantitySummary.Of(Enumerable.Range(1, 10).Select(value => (value * 10.0, 1L)), 2)! with { Unrecordable = 3 },
        };
        model = model with { Measures = [report] };
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        QuantitiesTable.Write(_ => file, model);
        var lines = File.ReadAllLines(file);
        File.Delete(file);
        Assert.Equal(4, lines.Length);
        Assert.Equal("lowest_saturation,2025-04/2026-03,all,all,0.5,55,20,90,95,97.8515625,order_statistics,10,2,3", lines[2]);
        Assert.StartsWith("lowest_saturation,2025-04/2026-03,all,all,0.25,32.5,,", lines[1], StringComparison.Ordinal);
        var page = Appendix.Html(model, []);
        Assert.Contains("20\u00a0to\u00a090", page.Replace("&#160;", "\u00a0", StringComparison.Ordinal)
            .Replace("&nbsp;", "\u00a0", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("or less)", page, StringComparison.Ordinal);
    }
}
