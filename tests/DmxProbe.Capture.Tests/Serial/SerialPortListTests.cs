using DmxProbe.Capture.Serial;

namespace DmxProbe.Capture.Tests.Serial;

public class SerialPortListTests
{
    [Fact]
    public void Adapters_are_listed_with_their_product_and_a_name_that_stays()
    {
        string root = Directory.CreateTempSubdirectory("dmxprobe").FullName;
        try
        {
            string usb = Path.Combine(root, "sys/devices/usb1/1-1");
            Directory.CreateDirectory(Path.Combine(usb, "1-1:1.0/ttyUSB0"));
            File.WriteAllText(Path.Combine(usb, "product"), "USB adapter\n");
            string classes = Path.Combine(root, "sys/class/tty");
            Directory.CreateDirectory(Path.Combine(classes, "ttyUSB0"));
            Directory.CreateSymbolicLink(Path.Combine(classes, "ttyUSB0/device"), Path.Combine(usb, "1-1:1.0/ttyUSB0"));
            Directory.CreateDirectory(Path.Combine(classes, "tty1")); // a console: nothing behind it
            Directory.CreateDirectory(Path.Combine(classes, "ttyS0/device"));
            File.WriteAllText(Path.Combine(classes, "ttyS0/type"), "0\n"); // no chip there
            Directory.CreateDirectory(Path.Combine(classes, "ttyS1/device"));
            File.WriteAllText(Path.Combine(classes, "ttyS1/type"), "4\n");
            string byId = Path.Combine(root, "dev/serial/by-id");
            Directory.CreateDirectory(byId);
            File.WriteAllText(Path.Combine(root, "dev/ttyUSB0"), "");
            File.CreateSymbolicLink(Path.Combine(byId, "usb-adapter-if00"), "../../ttyUSB0");
            Assert.Equal(
                [
                    new SerialPortInfo("ttyS1", "", ""),
                    new SerialPortInfo("ttyUSB0", Path.Combine(byId, "usb-adapter-if00"), "USB adapter"),
                ],
                SerialPortList.ReadLinux(root));
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
    }

    [Fact]
    public void A_computer_without_such_a_list_has_no_ports() =>
        Assert.Empty(SerialPortList.ReadLinux("/nowhere-at-all"));
}
