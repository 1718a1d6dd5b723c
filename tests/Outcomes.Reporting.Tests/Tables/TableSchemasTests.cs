using System.Reflection;
using Outcomes.Reporting.AnalysisSet;
using Outcomes.Reporting.Answers;
using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

/// <summary>What holds of every schema.</summary>
public sealed class TableSchemasTests
{
    [Fact]
    public void Every_table_in_the_folder_of_tables_is_in_the_list()
    {
        // A table that is written without being listed would have no place in datapackage.json. An answer is taken away alone.
        var declared = typeof(TableSchemas).Assembly.GetTypes().Where(type => type != typeof(AnswerTable))
            .SelectMany(type => type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic))
            .Where(field => field.FieldType.IsGenericType && field.FieldType.GetGenericTypeDefinition() == typeof(CsvTable<>))
            .Select(field => (TableSchema)field.FieldType.GetProperty(nameof(CsvTable<int>.Schema))!.GetValue(field.GetValue(null))!);
        Assert.Equal(declared.Select(table => table.Path).Order(),
            TableSchemas.All.Concat(AnalysisSchemas.Fixed).Select(table => table.Path).Order());
    }

    [Fact]
    public void Names_are_told_apart_and_keys_are_columns() => Assert.All(TableSchemas.All.Concat(AnalysisSchemas.Fixed), table =>
    {
        Assert.Equal(table.Columns.Length, table.Columns.DistinctBy(column => column.Name).Count());
        Assert.All(table.Key, name => Assert.Contains(table.Columns, column => column.Name == name));
        Assert.Single(TableSchemas.All.Concat(AnalysisSchemas.Fixed), other => other.Path == table.Path);
    });

    [Fact]
    public void Every_column_says_what_it_holds_in_a_sentence() => Assert.All(TableSchemas.All, table =>
    {
        Assert.EndsWith(".", table.Description, StringComparison.Ordinal);
        Assert.All(table.Columns, column => Assert.Matches(@"^[A-Za-z].{8,}\.$", column.Description));
    });

    [Fact]
    public void A_column_stands_under_its_own_heading_with_its_own_cell()
    {
        var table = new CsvTable<(string Name, long Number)>("a.csv", "A", "One row.")
            .Number("number", "A number.", row => row.Number).Word("name", "A name.", row => row.Name);
        var path = Path.GetTempFileName();
        table.Write(path, [("x", 3)]);
        Assert.Equal("number,name\n3,x\n", File.ReadAllText(path));
        File.Delete(path);
        Assert.Equal(["number", "name"], table.Schema.Columns.Select(column => column.Name));
    }

    [Fact]
    public void Cells_that_are_written_together_must_be_as_many_as_their_columns()
    {
        var table = new CsvTable<int>("a.csv", "A", "One row.").Group(
            [new("one", ColumnType.Integer, "One."), new("two", ColumnType.Integer, "Two.")], (writer, row) => writer.Integer(row));
        var path = Path.GetTempFileName();
        Assert.Throws<InvalidOperationException>(() => table.Write(path, [1]));
        File.Delete(path);
    }
}
