using System.Globalization;
using System.Text;
using Bogus;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>The detectors measured on the labelled corpus. The table in docs/governance.md is the long measurement's.</summary>
public class CorpusTests(ITestOutputHelper output)
{
    // What no detector claims to find is measured too, so that the table says it.
    private static readonly string[] Unclaimed = ["name without a title", "date of birth, from 2000, no words", "e-mail, \"at\" spelled out"];

    [Fact]
    public void Planted_identifiers_are_found_and_clean_files_and_cells_pass()
    {
        var measured = Measure(seed: 7, planted: 300, files: 40, cells: 4000);
        foreach (var (kind, found, of) in measured.Recall.Where(row => !Unclaimed.Contains(row.Kind)))
            Assert.True(found >= 0.8 * of, $"{kind}: {found} of {of}");
        Assert.True(measured.Refused <= 2, $"{measured.Refused} clean files refused");
        Assert.True(measured.Blanked <= 80, $"{measured.Blanked} clean cells blanked");
    }

    // Outside CI: dotnet run -c Release --project tests/Outcomes.Ingestion.Tests -- -explicit only -class '*CorpusTests' -showliveoutput
    [Fact(Explicit = true)]
    public void The_long_measurement()
    {
        var measured = Measure(seed: 2026, planted: 2000, files: 1000, cells: 100_000);
        Assert.All(measured.Recall, row => Assert.True(row.Of > 0));
        output.WriteLine(measured.Table());
    }

    private static Measurement Measure(int seed, int planted, int files, int cells)
    {
        var faker = new Faker("en_GB") { Random = new Randomizer(seed) };
        var recall = Corpus.Kinds.Select(kind => (kind, Enumerable.Range(0, planted).Count(_ => (Detect.In(Corpus.Planted(kind, faker)) & ~Identifier.TenDigits) != Identifier.None), planted)).ToArray();
        var blanked = Enumerable.Range(0, cells).Count(_ => (Detect.In(Corpus.Clean(faker)) & ~Identifier.TenDigits) != Identifier.None);
        return new Measurement(recall, Enumerable.Range(0, files).Count(_ => IsRefused(Corpus.CleanFile(faker))), files, blanked, cells);
    }

    private static bool IsRefused(string text)
    {
        using var place = new Workplace();
        try
        {
            place.Read(text);
            return false;
        }
        catch (Failure failure) when (failure.Code == ExitCode.Input)
        {
            return true;
        }
    }

    private sealed record Measurement((string Kind, int Found, int Of)[] Recall, int Refused, int Files, int Blanked, int Cells)
    {
        public string Table()
        {
            var text = new StringBuilder("| planted | found | of | recall |\n| --- | --- | --- | --- |\n");
            foreach (var (kind, found, of) in Recall)
                text.Append(CultureInfo.InvariantCulture, $"| {kind} | {found} | {of} | {(double)found / of:P1} |\n");
            return text.Append(CultureInfo.InvariantCulture, $"\nfalse refusals: {Refused} of {Files} clean files, {1000.0 * Refused / Files:0.0} per 1,000\nfalse blanks: {Blanked} of {Cells} clean cells, {10_000.0 * Blanked / Cells:0.0} per 10,000\n").ToString();
        }
    }
}
