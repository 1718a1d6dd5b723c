using System.Reflection;
using System.Text;

namespace Outcomes.Reporting.Page;

/// <summary>The files that ship within the tool: the fonts, and the styles of its pages.</summary>
internal static class EmbeddedFile
{
    public static byte[] Bytes(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not embedded.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    /// <summary>The text of one, with line ends as a browser's parser makes them: a page's policy hashes these bytes.</summary>
    public static string Text(string name) => Encoding.UTF8.GetString(Bytes(name)).ReplaceLineEndings("\n");
}
