using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The demonstration's report is, byte for byte, the one that stands in <c>reports/demo</c>: whoever changes a word, a figure or a line of it sees that
/// in the change. <c>tests/golden.sh</c> makes it anew; look at it before it is committed.
/// </summary>
public sealed class GoldenReportTests(DemoRun demo) : IClassFixture<DemoRun>
{
    [Fact]
    public async Task The_report_of_the_demonstration_is_the_one_in_the_repository()
    {
        var kept = await File.ReadAllBytesAsync(Repository.InRoot("reports", "demo", "report.html"), TestContext.Current.CancellationToken);
        var made = await File.ReadAllBytesAsync(demo["report.html"], TestContext.Current.CancellationToken);
        var first = kept.Zip(made).TakeWhile(pair => pair.First == pair.Second).Count();
        Assert.True(kept.AsSpan().SequenceEqual(made), $"the reports part at byte {first} of {made.Length}: {Around(made, first)}");
    }

    private static string Around(byte[] text, int at) => System.Text.Encoding.UTF8.GetString(text, Math.Max(0, at - 60), Math.Min(120, text.Length - Math.Max(0, at - 60)));
}
