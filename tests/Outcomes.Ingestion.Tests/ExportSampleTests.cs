using System.Text;
using Outcomes.Ingestion.Formats;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>What a mapping is drafted from: headings and first rows of every format.</summary>
public class ExportSampleTests
{
    private const string Table = "Ref;Where\nr1;Würz\nr2;ed\n";

    public static TheoryData<SourceFormat, byte[]> Encodings => new()
    {
        { SourceFormat.Utf8, Encoding.UTF8.GetBytes(Table) },
        { SourceFormat.Utf8, [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(Table)] },
        { SourceFormat.Utf16LittleEndian, [.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Table)] },
        { SourceFormat.Utf16BigEndian, [.. Encoding.BigEndianUnicode.Preamble, .. Encoding.BigEndianUnicode.GetBytes(Table)] },
        { SourceFormat.Windows1252, Encoding.Latin1.GetBytes(Table) },
        { SourceFormat.Utf8, Encoding.UTF8.GetBytes("sep=;\n" + Table) },
    };

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Text_in_any_encoding_gives_the_same_sample(SourceFormat format, byte[] bytes)
    {
        var sample = Sample(bytes);
        Assert.Equal((format, ';', 0), (sample.Format, sample.Separator, sample.HeaderRow));
        Assert.Equal("Ref|Where", string.Join('|', sample.Headings));
        Assert.Equal(["r1|Würz", "r2|ed"], sample.Rows.Select(row => string.Join('|', row.Cells)));
    }

    [Theory]
    [InlineData("Audit of an invented unit\nExported,2026-01-31\n\nRef,Where,SpO2 min\nr1,ed,90\n", 4)]
    [InlineData("Audit,,\nRef,Where,SpO2 min\nr1,ed,90\n", 2)]
    [InlineData(",Monitor,\nRef,Where,SpO2 min\nr1,ed,90\n", 2)]
    [InlineData("Ref,Where,SpO2 min\nr1,ed,90\n", 0)]
    [InlineData("\nRef,Where,SpO2 min\nr1,ed,90\n", 0)]
    [InlineData("Ref,,\nr1,ed,low\nr2,icu,high\n", 2)]
    [InlineData("1,2,3\n4,5,6\n", 0)]
    [InlineData("Ref,Where,Said\nr1,ed,a;b;c;d;e;f;g;h\nr2,\"a;b;c\nd;e;f;g;h\",no\n", 0)]
    [InlineData("Audit, invented\nRef;Where;pH\nr1;ed, resus;7,3\n", 2)]
    [InlineData("sep=;\nAudit\nRef;Where;pH\nr1;ed;7,3\n", 3)]
    [InlineData("\"Two\nlines, of a title\"\nRef,Where\nr1,ed\n", 3)]
    public void Title_rows_above_the_headings_are_found(string text, int headerRow) =>
        Assert.Equal(headerRow, Sample(Encoding.UTF8.GetBytes(text)).HeaderRow);

    [Fact]
    public void Lines_are_those_of_the_file_and_the_limit_is_kept()
    {
        using var place = new Workplace();
        var path = place.File(Encoding.UTF8.GetBytes("Audit\n\nRef,Where\nr1,\"a\nb\"\nr2,ed\nr3,ed\n"));
        var sample = ExportSample.Read(path, "x.csv", most: 2);
        Assert.Equal([4, 6], sample.Rows.Select(row => row.Line));
        Assert.True(sample.Truncated);
    }

    [Fact]
    public void A_workbook_gives_its_sheets_and_of_one_its_typed_cells()
    {
        var path = Path.Combine(Fixtures.Folder, "exports", "workbook.xlsx");
        Assert.Equal(["2 Cases Case ID", "3 Attempts Case ID"],
            ExportSample.Sheets(path, "x").Select(sheet => $"{sheet.Place} {sheet.Name} {sheet.Headings[0]}"));
        var sample = ExportSample.Read(path, "x", 3, "Cases");
        Assert.Equal((SourceFormat.Workbook, null, 5), (sample.Format, sample.Separator, sample.HeaderRow));
        Assert.Equal([6, 7, 8], sample.Rows.Select(row => row.Line));
        Assert.True(sample.Truncated);
        // The script beside the workbook writes these cells as numbers formatted as a date and as a time of day.
        Assert.All(sample.Rows, row => Assert.Matches(@"^2025-\d\d-\d\d$", row.Cells[1]));
        Assert.All(sample.Rows, row => Assert.Matches(@"^\d\d:\d\d:00$", row.Cells[2]));
    }

    [Fact]
    public void Text_with_a_NUL_byte_is_no_old_encoding() =>
        Assert.Equal("not_utf8", Assert.Throws<Failure>(() => Sample([.. Encoding.UTF8.GetBytes(Table), 0, 0xE9])).Rule);

    private static ExportSample Sample(byte[] bytes)
    {
        using var place = new Workplace();
        return ExportSample.Read(place.File(bytes), "x.csv");
    }
}
