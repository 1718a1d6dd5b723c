using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

public class LadderSectionTests
{
    [Fact]
    public void Shares_of_starts_stand_beside_the_ladder_and_none_is_made_up()
    {
        var model = Samples.Model();
        Assert.Contains(Rows(model), row => row.Contains("95.7 to 99.8 %", StringComparison.Ordinal));
        Assert.All(Rows(model with { LadderShares = [] }), row => Assert.Contains("no start known", row, StringComparison.Ordinal));
    }

    private static string[] Rows(Figures model) =>
    [
        .. new HtmlParser().ParseDocument(Appendix.Html(model, [])).QuerySelector("caption#t-plans")!.ParentElement!
            .QuerySelectorAll("tbody tr").Select(row => row.TextContent.Replace('\u00a0', ' ').Trim()),
    ];
}
