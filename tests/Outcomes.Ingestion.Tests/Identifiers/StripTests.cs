using System.Text;
using CsCheck;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Stripping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

public class StripTests
{
    private const string Export =
        "record_id,Surname,event_date,spo2_min,location_type,a.person@example.org,notes,Ref\n"
        + "R1,Example,2024-01-31,97,icu,x,\"said \"\"no\"\", then yes\",999 000 0018\n"
        + "R2,,2024-02-01,95,ed,,\"two\nlines\",\n";

    [Fact]
    public void Refused_columns_are_left_out_and_named_and_the_copy_is_read()
    {
        using var place = new Workplace();
        var (result, copy) = Stripped(place, Export);
        Assert.Equal("record_id,event_date,spo2_min,location_type,notes\nR1,2024-01-31,97,icu,\"said \"\"no\"\", then yes\"\n"
            + "R2,2024-02-01,95,ed,\"two\nlines\"\n", copy);
        Assert.Equal(["column 2 `Surname`", "column 6", "column 8 `Ref`"], result.Columns.Select(column => column.Name));
        Assert.DoesNotContain("999", string.Concat(result.Columns.Select(column => column.Reason)), StringComparison.Ordinal);
        Assert.Equal(2, place.Read(copy).Manifest.Rows);
    }

    [Fact]
    public void Nothing_is_ever_overwritten()
    {
        using var place = new Workplace();
        var (source, taken) = (place.File(Encoding.UTF8.GetBytes(Export)), place.File("mine"u8.ToArray()));
        foreach (var target in (string[])[taken, source])
            Assert.Equal(ExitCode.Output, Assert.Throws<Failure>(() => Strip.Write(source, "x.csv", target, null, Maps.Dictionary)).Code);
        Assert.Equal("mine", File.ReadAllText(taken));
        Assert.Equal(Export, File.ReadAllText(source));
    }

    [Fact]
    public void A_failure_leaves_no_part_of_a_copy()
    {
        using var place = new Workplace();
        var source = place.File(Encoding.UTF8.GetBytes(Export + "R3,\"never closed\n"));
        Assert.Throws<Failure>(() => Strip.Write(source, "x.csv", source + ".copy", null, Maps.Dictionary));
        Assert.Equal([source], Directory.GetFiles(Path.GetDirectoryName(source)!));
    }

    [Fact]
    public void A_checked_column_stays()
    {
        using var place = new Workplace();
        var (result, _) = Stripped(place, Export, Maps.Small with { Checked = [new CheckedColumn("Surname", "", 1)] });
        Assert.Equal(["column 6", "column 8 `Ref`"], result.Columns.Select(column => column.Name));
    }

    [Fact]
    public void Cells_beyond_the_heading_are_left_out_and_counted()
    {
        using var place = new Workplace();
        var (result, copy) = Stripped(place, "a;b\n1;2;Mr Example\n3\n");
        Assert.Equal("a;b\n1;2\n3\n", copy);
        Assert.Equal((2, 1), (result.Rows, result.CutRows));
    }

    // Whatever stands in the cells: the copy of a clean file has the same cells, and the copy of a copy is the same copy.
    [Fact]
    public void What_is_kept_is_kept_as_it_was() => Gen.String[Gen.Char["xq1 \",;'\n=é"], 0, 8].Array[3].Array[1, 12].Sample(rows =>
    {
        using var place = new Workplace();
        var text = "x,y,z\n" + string.Concat(
            rows.Select(row => string.Join(',', row.Select(cell => $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"")) + "\n"));
        var (result, copy) = Stripped(place, text);
        Assert.Empty(result.Columns);
        Assert.Equal(Cells(text), Cells(copy));
        Assert.Equal(copy, Stripped(place, copy).Copy);
    }, iter: 100);

    private static IEnumerable<string> Cells(string text) => NaiveCsv.Read(text, ',').Rows.Select(row => string.Join('|', row.Cells));

    private static (StripResult Result, string Copy) Stripped(Workplace place, string text, SourceMapping? mapping = null)
    {
        var source = place.File(Encoding.UTF8.GetBytes(text));
        var result = Strip.Write(source, "x.csv", source + ".copy", mapping, Maps.Dictionary);
        return (result, File.ReadAllText(source + ".copy"));
    }
}
