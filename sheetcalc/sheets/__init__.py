"""What stands where: plans of workbooks (`layout`), one module for each kind of sheet, and the one writer (`write`)."""
