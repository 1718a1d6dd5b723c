namespace Outcomes.Tests;

public class CheckTests
{
    public static TheoryData<string> Files => [.. Directory.GetFiles(Check.Folder, "*.json").Select(file => Path.GetFileName(file))];

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_expected_value_names_its_source_provenance_and_status(string file)
    {
        var checks = Check.Read(file);
        Assert.NotEmpty(checks);
        Assert.All(checks, check =>
        {
            Assert.False(string.IsNullOrWhiteSpace(check.Source), $"{file}: {check.Id} has no source");
            Assert.Matches(@"^[RSMC]", check.Provenance);
            // What sources disagree on, or print only in part, is marked and says so.
            Assert.Matches("^(ok|partial|conflict)$", check.Status);
            Assert.True(check.Status == "ok" || check.Note.Length > 20, $"{file}: {check.Id} is {check.Status} and does not say why");
            Assert.NotEmpty(check.Expected);
            // Half a unit of the last printed digit; some sources print two digits only.
            var largest = check.Expected.Max(pair => pair.Value is System.Text.Json.Nodes.JsonValue number
                ? Math.Abs(number.GetValue<double>())
                : 1);
            Assert.True(check.Tolerance >= 0 && check.Tolerance < 0.006 * Math.Max(1, largest),
                $"{file}: {check.Id} has a tolerance of {check.Tolerance}");
        });
        Assert.Equal(checks.Length, checks.Select(check => check.Id).Distinct().Count());
    }
}
