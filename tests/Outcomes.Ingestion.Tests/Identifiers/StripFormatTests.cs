using System.Text;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Stripping;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>A copy is CSV in UTF-8 whatever the file was, and reads as the file did.</summary>
public class StripFormatTests
{
    private const string Export = "record_id;Surname;event_date;location_type\nR1;Exämple;2024-01-31;icu\n";

    private const string Copy = "record_id;event_date;location_type\nR1;2024-01-31;icu\n";

    public static TheoryData<byte[]> Texts => new()
    {
        Encoding.UTF8.GetBytes("Export of an invented unit\n\n" + Export),
        Encoding.UTF8.GetBytes("sep=;\n" + Export),
        (byte[])[.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Export)],
        (byte[])[.. Encoding.BigEndianUnicode.Preamble, .. Encoding.BigEndianUnicode.GetBytes("Export of an invented unit\n" + Export)],
    };

    [Theory]
    [MemberData(nameof(Texts))]
    public void Text_is_copied_from_its_headings_on(byte[] export)
    {
        using var place = new Workplace();
        var path = place.File(export);
        Assert.Equal(["column 2 `Surname`"], Strip.Write(path, "x", path + ".copy", null, Maps.Dictionary).Columns
            .Select(column => column.Name));
        Assert.Equal(Copy, File.ReadAllText(path + ".copy"));
        Assert.Equal(2, Directory.GetFiles(Path.GetDirectoryName(path)!).Length);
    }

    [Fact]
    public void The_mapping_says_what_the_bytes_do_not()
    {
        using var place = new Workplace();
        var path = place.File(Encoding.Latin1.GetBytes("1;2;3;4\n" + Export));
        var mapping = Maps.Small with { Table = new TableLayout(null, false) { Windows1252 = true, HeaderRow = 2 } };
        var result = Strip.Write(path, "x", path + ".copy", mapping, Maps.Dictionary);
        Assert.Equal(Copy, File.ReadAllText(path + ".copy"));
        Assert.Equal(["encoding", "header_row"], result.Changed);
    }

    [Fact]
    public void A_workbook_is_copied_with_its_typed_cells_and_formulas_in_its_texts_are_guarded()
    {
        using var place = new Workplace();
        var path = Path.Combine(Path.GetDirectoryName(place.File([]))!, "copy.csv");
        Strip.Write(Path.Combine(Fixtures.Folder, "ingestion", "typed-cells.xlsx"), "x", path, null, Maps.Dictionary);
        var lines = File.ReadAllText(path).Split('\n');
        Assert.StartsWith("record_id,event_date,event_time,spo2_min", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("R1,2024-01-31,", lines[1], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("=1+2", "'=1+2")]
    [InlineData("@sum", "'@sum")]
    [InlineData("-2+cmd|' /c x'!A0", "'-2+cmd|' /c x'!A0")]
    [InlineData("+ve", "+ve")]
    [InlineData("-", "-")]
    [InlineData("-9", "-9")]
    [InlineData("=", "=")]
    [InlineData("yes", "yes")]
    public void Only_what_a_spreadsheet_would_run_is_guarded(string cell, string expected) =>
        Assert.Equal(expected, Encoding.UTF8.GetString(StripText.Guarded(Encoding.UTF8.GetBytes(cell))));
}
